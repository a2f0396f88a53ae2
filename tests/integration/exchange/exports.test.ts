import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { exportQuery } from '@/lib/exchange/schema';
import { checkQuality, describeExports, exportBirds } from '@/lib/exchange/service/exports';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { FileAnswer } from '@/lib/platform/http';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { readArchive } from '@/tests/unit/exchange/archive-reader';
import { unzipTexts } from '@/tests/unit/exchange/zip-files';

const DWC = 'http://rs.tdwg.org/dwc/terms/';
const ADDRESS = 'https://lab.example';
const EXACT = { latitude: 39.961234, longitude: -82.998765 };

let collectionId: string;
let curator: Actor;
let volunteer: Actor;
let visitor: Actor;

/** Two catalogued birds, one of them of a sensitive taxon, and one that waits in the queue. */
beforeAll(async () => {
  collectionId = await makeCollection(db());
  const preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  visitor = await makeActor(db(), collectionId, 'visitor');
  const owl = await makeTaxon(db(), {
    scientificName: 'Asio otus',
    commonName: 'Long-eared Owl',
    sensitive: true,
  });
  const plain = await makeInReview(db(), preparator, { state: 'approved' });
  const sensitive = await makeInReview(db(), preparator, { state: 'approved', taxonId: owl });
  for (const [index, { bird }] of [plain, sensitive].entries()) {
    await db().catalogueEntry.create({
      data: {
        collectionId,
        birdId: bird.id,
        number: `TC-${index + 1}`,
        approvedById: curator.personId ?? '',
        approved: {},
      },
    });
  }
  await makeBird(db(), collectionId);
  await db().salvageRecord.updateMany({
    where: { collectionId },
    data: {
      ...EXACT,
      uncertaintyM: 30,
      verbatimCoordinates: '39.961234, -82.998765',
      remarks: '=HYPERLINK("x")',
    },
  });
});

async function bytesOf({ body }: FileAnswer): Promise<Buffer> {
  return Buffer.from(await new Response(body as BodyInit).arrayBuffer());
}

async function archiveOf(actor: Actor, form: 'occurrences' | 'materials', query: object) {
  const file = await exportBirds(contextOf(actor), form, exportQuery.parse(query), ADDRESS);
  return readArchive(await unzipTexts(await bytesOf(file)));
}

const places = (rows: { values: Record<string, string> }[]) =>
  rows.map(({ values }) => ({
    name: values[`${DWC}scientificName`],
    latitude: values[`${DWC}decimalLatitude`],
    locality: values[`${DWC}locality`],
    verbatim: values[`${DWC}verbatimCoordinates`],
    said: (values[`${DWC}dataGeneralizations`] ?? '') !== '',
  }));

const text = 'Below a window of a library';

describe('occurrence archive, re-read by the independent reader', () => {
  it('holds each bird once, with as many materials, measurements and relations as the house has', async () => {
    const { core, extensions } = await archiveOf(curator, 'occurrences', { birds: 'all' });
    expect(core.rows).toHaveLength(3);
    const rowsOf = (type: string) => extensions.find((table) => table.rowType.endsWith(type))?.rows ?? [];
    const materials = await db().material.findMany({ where: { collectionId } });
    expect(
      rowsOf('MaterialEntity')
        .map((row) => row.values[`${DWC}materialEntityID`])
        .sort(),
    ).toEqual(materials.map(({ id }) => `urn:uuid:${id}`).sort());
    const wings = rowsOf('MeasurementOrFact').filter((row) => row.values[`${DWC}measurementUnit`] === 'mm');
    expect(wings.map((row) => row.values[`${DWC}measurementValue`]).sort()).toEqual([
      '128',
      '128',
      '4',
      '4',
      '7',
      '7',
    ]);
    const robin = core.rows.find((row) => row.values[`${DWC}catalogNumber`] === 'TC-1');
    expect(robin?.values).toMatchObject({
      [`${DWC}eventDate`]: '2025-04-03',
      [`${DWC}countryCode`]: 'US',
      [`${DWC}sex`]: 'undetermined',
      [`${DWC}basisOfRecord`]: 'PreservedSpecimen',
    });
  });

  it('holds catalogued birds only when asked for approved ones, and nothing of another collection', async () => {
    const { core } = await archiveOf(curator, 'occurrences', {});
    expect(core.rows.map((row) => row.values[`${DWC}catalogNumber`]).sort()).toEqual(['TC-1', 'TC-2']);
    const stranger = await makeActor(db(), await makeCollection(db()), 'curator');
    expect((await archiveOf(stranger, 'occurrences', { birds: 'all' })).core.rows).toEqual([]);
  });

  it('gives a visitor no exact place at all, and says that it was coarsened', async () => {
    const { core } = await archiveOf(visitor, 'occurrences', {});
    for (const place of places(core.rows)) {
      expect(place).toMatchObject({ latitude: '39.95', locality: '', verbatim: '', said: true });
    }
    await expect(
      exportBirds(contextOf(visitor), 'occurrences', exportQuery.parse({ birds: 'all' }), ADDRESS),
    ).rejects.toMatchObject({
      code: 'forbidden',
    });
    await expect(
      exportBirds(contextOf(visitor), 'materials', exportQuery.parse({}), ADDRESS),
    ).rejects.toMatchObject({
      code: 'forbidden',
    });
  });

  it.each([
    ['a volunteer', () => volunteer, {}, ['39.95', '39.961234']],
    ['a curator who shares', () => curator, {}, ['39.95', '39.961234']],
    ['a curator who keeps it in the house', () => curator, { places: 'exact' }, ['39.961234', '39.961234']],
  ])('coarsens sensitive birds for %s', async (_, actor, query, latitudes) => {
    const { core } = await archiveOf(actor(), 'occurrences', query);
    expect(
      places(core.rows)
        .map((place) => place.latitude)
        .sort(),
    ).toEqual(latitudes);
    const owl = places(core.rows).find((place) => place.name?.startsWith('Asio'));
    expect(owl?.locality).toBe(latitudes[0] === '39.95' ? '' : text);
  });

  it('refuses exact places to those who may not see them', async () => {
    await expect(
      exportBirds(contextOf(volunteer), 'occurrences', exportQuery.parse({ places: 'exact' }), ADDRESS),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('holds only what changed since a day', async () => {
    const { core } = await archiveOf(curator, 'occurrences', { birds: 'all', since: '2999-01-01' });
    expect(core.rows).toEqual([]);
  });
});

// Terms and the meaning of accessURI: Audiovisual Core 2026-02-24.
describe('pictures', () => {
  const media = async (actor: Actor, query: object) => {
    const { core, extensions } = await archiveOf(actor, 'occurrences', query);
    const numbers = new Map(core.rows.map((row) => [row.id, row.values[`${DWC}catalogNumber`]]));
    const rows = extensions.find((table) => table.rowType.endsWith('Multimedia'))?.rows ?? [];
    return rows.map(({ id, values }) => ({
      bird: numbers.get(id),
      address: values['http://rs.tdwg.org/ac/terms/accessURI'],
      format: values['http://purl.org/dc/elements/1.1/format'],
      type: values['http://purl.org/dc/elements/1.1/type'],
      title: values['http://purl.org/dc/terms/title'],
      created: values['http://ns.adobe.com/xap/1.0/CreateDate'],
      digest: values['http://rs.tdwg.org/ac/terms/hashValue'],
    }));
  };
  const kept = new Map<string, string>();
  const NO_PICTURE = {
    mediaType: 'application/pdf',
    publicSha256: null,
    thumbSha256: null,
    widthPx: null,
    heightPx: null,
  };
  const digestOf = (copy: string, of: string) =>
    createHash('sha256')
      .update(copy + of)
      .digest('hex');

  beforeAll(async () => {
    const birds = await db().bird.findMany({ where: { collectionId }, include: { catalogue: true } });
    for (const { id: birdId, salvageId, catalogue } of birds) {
      const number = catalogue?.number ?? 'queued';
      const common = {
        collectionId,
        birdId,
        subjectType: 'bird',
        subjectId: birdId,
        fileName: 'nest-by-the-old-mill.png',
        mediaType: 'image/png',
        sizeBytes: 1,
        sha256: digestOf('original', birdId),
        publicSha256: digestOf('public', number),
        thumbSha256: digestOf('thumb', number),
        widthPx: 600,
        heightPx: 400,
        caption: 'By the old mill',
        takenAt: new Date('2025-04-03T12:30:00Z'),
        uploadedById: curator.personId ?? '',
      };
      const picture = await db().attachment.create({ data: common });
      kept.set(number, picture.id);
      const others = [
        { removedAt: new Date() },
        { ...NO_PICTURE, sha256: digestOf('paper', birdId) },
        { subjectType: 'salvage', subjectId: salvageId },
      ];
      for (const other of others) await db().attachment.create({ data: { ...common, ...other } });
    }
  });

  it('has a row for each public picture of a catalogued bird, at the address of its copy', async () => {
    const rows = await media(curator, { birds: 'all', places: 'exact' });
    const expected = ['TC-1', 'TC-2'].map((bird) => ({
      bird,
      address: `https://lab.example/api/attachments/${kept.get(bird)}/file?copy=public`,
      format: 'image/jpeg',
      type: 'StillImage',
      title: 'By the old mill',
      created: '2025-04-03',
      digest: digestOf('public', bird),
    }));
    expect(rows.sort((a, b) => String(a.bird).localeCompare(String(b.bird)))).toEqual(expected);
  });

  it.each([
    ['a curator who shares', () => curator, ['By the old mill', '']],
    ['a visitor', () => visitor, ['', '']],
  ])('says nothing of the place of a coarsened bird to %s', async (_, actor, titles) => {
    const rows = await media(actor(), {});
    const byBird = rows.sort((a, b) => String(a.bird).localeCompare(String(b.bird)));
    expect(byBird.map((row) => row.title)).toEqual(titles);
  });

  it('gives no file name to anybody', async () => {
    const file = await exportBirds(
      contextOf(curator),
      'occurrences',
      exportQuery.parse({ birds: 'all', places: 'exact' }),
      ADDRESS,
    );
    const texts = [...(await unzipTexts(await bytesOf(file))).values()].join('');
    expect(texts).toContain('By the old mill');
    expect(texts).not.toContain('nest-by');
  });
});

describe('the other forms', () => {
  it('has one row a material in the material archive', async () => {
    const { core } = await archiveOf(curator, 'materials', { birds: 'all' });
    expect(core.rows).toHaveLength(await db().material.count({ where: { collectionId } }));
  });

  it('writes CSV and GeoJSON of the same birds, without finders and without exact places for a visitor', async () => {
    const csv = (
      await bytesOf(await exportBirds(contextOf(visitor), 'simple-csv', exportQuery.parse({}), ADDRESS))
    ).toString();
    expect(csv.trim().split('\n')).toHaveLength(3);
    const json = (
      await bytesOf(await exportBirds(contextOf(visitor), 'geojson', exportQuery.parse({}), ADDRESS))
    ).toString();
    const features = (JSON.parse(json) as { features: { geometry: { coordinates: number[] } }[] }).features;
    expect(features.map((one) => one.geometry.coordinates)).toEqual([
      [-82.95, 39.95],
      [-82.95, 39.95],
    ]);
    for (const file of [csv, json]) expect(file).not.toMatch(/39\.961|82\.998|library/);
  });

  it('writes down that data left the house, and what an export would hold', async () => {
    await bytesOf(
      await exportBirds(contextOf(curator), 'geojson', exportQuery.parse({ places: 'exact' }), ADDRESS),
    );
    const event = await db().auditEvent.findFirst({
      where: { collectionId, kind: 'exchange.exported', actorId: curator.personId },
      orderBy: { seq: 'desc' },
    });
    expect(event?.payload).toMatchObject({ form: 'geojson', places: 'exact' });
    expect(await describeExports(visitor)).toMatchObject({
      approved: 2,
      all: null,
      mayExact: false,
      mayImport: false,
    });
    expect(await describeExports(curator)).toMatchObject({ approved: 2, all: 3, mayExact: true });
  });

  it('reports quality and levels of what would leave', async () => {
    const report = await checkQuality(curator, exportQuery.parse({ birds: 'all' }), ADDRESS);
    expect(report.records).toBe(3);
    const code = report.findings.find((one) => one.test === 'VALIDATION_COORDINATES_COUNTRYCODE_CONSISTENT');
    expect(code).toMatchObject({ compliant: 3, notCompliant: 0 });
    expect(Object.values(report.midsLevels).reduce((sum, count) => sum + count, 0)).toBe(3);
    await expect(checkQuality(visitor, exportQuery.parse({}), ADDRESS)).rejects.toMatchObject({
      code: 'forbidden',
    });
  });
});
