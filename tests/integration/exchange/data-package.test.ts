import { beforeAll, describe, expect, it } from 'vitest';
import { exportQuery } from '@/lib/exchange/schema';
import { exportBirds } from '@/lib/exchange/service/exports';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeTaxon } from '@/seed/factories';
import { makeBox, makeCatalogued } from '@/seed/factories/loans';
import { ask, collectionId, curator, openLoanLab, send, settle } from '@/tests/integration/loans/loan-lab';
import { findBrokenKeys, type ReadPackage, readPackage } from '@/tests/unit/exchange/package-reader';
import { unzipTexts } from '@/tests/unit/exchange/zip-files';

openLoanLab();

async function packageOf(actor: Actor, query: object): Promise<ReadPackage> {
  const file = await exportBirds(
    contextOf(actor),
    'data-package',
    exportQuery.parse(query),
    'https://lab.example',
  );
  return readPackage(await unzipTexts(Buffer.from(await new Response(file.body as BodyInit).arrayBuffer())));
}

/** A catalogued bird with two vials, of which one is on loan and one came back; an owl; a bird in the queue. */
async function fill(): Promise<void> {
  const robin = await makeCatalogued(db(), curator, await makeBox(db(), collectionId), { vials: 2 });
  const ids = robin.materials.slice(-2).map(({ id }) => id);
  const sent = await send(await ask([ids[0] ?? '']));
  await settle(sent, { label: 'T1', outcome: 'returned' });
  await send(await ask([ids[1] ?? '']));
  const taxonId = await makeTaxon(db(), { scientificName: 'Asio otus', sensitive: true });
  await makeBird(db(), collectionId, { taxonId });
  await makeBird(db(), collectionId);
  await db().salvageRecord.updateMany({
    where: { collectionId },
    data: { latitude: 39.961234, longitude: -82.998765, uncertaintyM: 30, verbatimDate: 'early "May", 2025' },
  });
}

describe('data package, re-read by its descriptor alone', () => {
  let whole: ReadPackage;
  beforeAll(async () => {
    await fill();
    whole = await packageOf(curator, { birds: 'all', places: 'exact' });
  });

  const rows = (table: string) => whole.tables.get(table) ?? [];
  it('has as many rows as the database', async () => {
    const of = { where: { collectionId } };
    const ofBirds = { where: { bird: { collectionId } } };
    expect(rows('event')).toHaveLength(await db().bird.count(of));
    expect(rows('organism')).toHaveLength(await db().bird.count(of));
    expect(rows('occurrence')).toHaveLength(await db().bird.count(of));
    expect(rows('material')).toHaveLength(await db().material.count(of));
    expect(rows('tissue')).toHaveLength(await db().vial.count(of));
    expect(rows('loan')).toHaveLength(
      await db().loanLine.count({ where: { loan: { collectionId }, sentAt: { not: null } } }),
    );
    const determined = await db().determination.count(ofBirds);
    const nameless = await db().bird.count({ where: { collectionId, determinations: { none: {} } } });
    expect(rows('identification')).toHaveLength(determined + nameless);
    expect(rows('usage-policy')).toHaveLength(1);
  });

  it('has keys that hold', () => {
    expect(findBrokenKeys(whole)).toEqual([]);
    const cut = new Map(whole.tables).set('material', rows('material').slice(1));
    expect(findBrokenKeys({ ...whole, tables: cut }).length).toBeGreaterThan(0);
  });

  it('gives birds and their finds as they are kept', async () => {
    const birds = await db().bird.findMany({
      where: { collectionId },
      include: { salvage: true, taxon: true },
    });
    for (const { id, number, sex, salvage, taxon } of birds) {
      const occurrence = rows('occurrence').find((row) => row.occurrenceID === `urn:uuid:${id}`);
      const event = rows('event').find((row) => row.eventID === occurrence?.eventID);
      expect(occurrence?.sex).toBe(sex ?? '');
      expect(event).toMatchObject({
        decimalLatitude: String(salvage.latitude),
        decimalLongitude: String(salvage.longitude),
        coordinateUncertaintyInMeters: String(salvage.uncertaintyM),
        verbatimEventDate: salvage.verbatimDate,
        locality: salvage.locality,
      });
      const names = rows('identification').filter((row) => row.occurrenceID === occurrence?.occurrenceID);
      const accepted = names.find((row) => row.isAcceptedIdentification === 'true');
      expect(accepted?.scientificName).toMatch(new RegExp(`^${taxon?.scientificName}`));
      const numbers = rows('occurrence-identifier').filter((row) => row.occurrenceID === `urn:uuid:${id}`);
      expect(numbers.find((row) => row.identifierType === 'salvage number')?.identifier).toBe(number);
    }
  });

  it('gives materials, vials and loans as they are kept', async () => {
    const materials = await db().material.findMany({
      where: { collectionId },
      include: { vial: true, loanLines: { include: { loan: true }, where: { sentAt: { not: null } } } },
    });
    for (const { id, parentId, birdId, vial, loanLines } of materials) {
      const own = (table: string) => rows(table).filter((row) => row.materialEntityID === `urn:uuid:${id}`);
      expect(own('material')[0]).toMatchObject({
        evidenceForOccurrenceID: `urn:uuid:${birdId}`,
        derivedFromMaterialEntityID: parentId === null ? '' : `urn:uuid:${parentId}`,
      });
      expect(
        own('tissue').map(({ code, tissues, amountLeft, amountUnit }) => [
          code,
          tissues,
          amountLeft,
          amountUnit,
        ]),
      ).toEqual(
        vial === null
          ? []
          : [[vial.code, vial.tissues.join(' | '), String(vial.amountLeft ?? ''), vial.amountUnit]],
      );
      expect(own('loan').map((row) => [row.loanIdentifier, row.outcome, row.loanDate])).toEqual(
        loanLines.map(({ loan, outcome, sentAt }) => [
          loan.number,
          outcome ?? '',
          sentAt?.toISOString().slice(0, 10),
        ]),
      );
    }
    expect(
      rows('loan')
        .map((row) => row.outcome)
        .sort(),
    ).toEqual(['', 'returned']);
  });

  it('gives measurements with their units', () => {
    const sizes = rows('occurrence-assertion').map((row) => [
      row.assertionType,
      row.assertionValueNumeric,
      row.assertionUnit,
    ]);
    expect(sizes).toContainEqual(['wing', '128', 'mm']);
    expect(sizes).toContainEqual(['mass', '78.2', 'g']);
  });

  it('gives all else the bench wrote, in words; free words of a sensitive bird leave with its exact place only', async () => {
    const owl = await db().bird.findFirstOrThrow({
      where: { collectionId, taxon: { scientificName: 'Asio otus' } },
    });
    const held = (value: string | string[] | { score: number; scale: string }) => ({
      value,
      method: null,
      at: '2026-02-01T10:00:00.000Z',
      by: null,
    });
    const values = {
      irisColour: held('orange'),
      fat: held({ score: 2, scale: 'kaiser' }),
      moult: held('trace'),
      organsSeen: held(['left-ovary']),
      stomachContents: held(['two voles from Hollow Pike']),
      causeOfDeathFound: held('hit a fence on Hollow Pike'),
      remarks: held('found by Hollow Pike'),
    };
    await db().benchRecord.create({
      data: {
        collectionId,
        birdId: owl.id,
        prepNumber: 'XX 9',
        styleId: 'whole-skeleton',
        preparatorId: curator.personId ?? '',
        values,
      },
    });
    const said = async (query: object) => {
      const { tables } = await packageOf(curator, { birds: 'all', ...query });
      const assertions = (tables.get('occurrence-assertion') ?? [])
        .filter((row) => row.occurrenceID === `urn:uuid:${owl.id}`)
        .map((row) => [row.assertionType, row.assertionValue || row.assertionValueNumeric] as const);
      const occurrence = (tables.get('occurrence') ?? []).find(
        (row) => row.occurrenceID === `urn:uuid:${owl.id}`,
      );
      return { assertions, occurrence };
    };
    const exact = await said({ places: 'exact' });
    const always: [string, string][] = [
      ['iris', 'orange'],
      ['fat', '2'],
      ['moult', 'Trace'],
      ['organs seen', 'Left ovary'],
    ];
    expect(new Map(exact.assertions)).toEqual(
      new Map([
        ...always,
        ['stomach contents', 'two voles from Hollow Pike'],
        ['cause of death found', 'hit a fence on Hollow Pike'],
      ]),
    );
    expect(exact.occurrence?.occurrenceRemarks).toBe('found by Hollow Pike');
    const shared = await said({});
    expect(new Map(shared.assertions)).toEqual(new Map(always));
    expect(JSON.stringify(shared)).not.toContain('Hollow Pike');
  });

  it('coarsens sensitive places when it is shared, and is not for visitors', async () => {
    const shared = await packageOf(curator, { birds: 'all' });
    const latitudes = (shared.tables.get('event') ?? []).map((row) => row.decimalLatitude).sort();
    expect(latitudes).toEqual(['39.95', '39.961234', '39.961234']);
    expect(findBrokenKeys(shared)).toEqual([]);
    const visitor = await makeActor(db(), collectionId, 'visitor');
    await expect(packageOf(visitor, {})).rejects.toMatchObject({ code: 'forbidden' });
  });
});
