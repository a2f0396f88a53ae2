import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { db } from '@/lib/platform/db';
import { changeFindRequest } from '@/lib/salvage/schema';
import { changeFind } from '@/lib/salvage/service/change';
import { checkPlace, listFinds, showFind } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
});

const report = (changes: Record<string, unknown> = {}, as = lab.as.volunteer) =>
  reportFind(contextOf(as), find(lab, changes));

describe('logging a find', () => {
  it('gives it a number, a first step of custody, a verdict with reasons and clauses, and a story', async () => {
    const made = await report();
    expect(made).toMatchObject({
      state: 'reported',
      stateProvince: 'Ohio',
      coverage: 'covered',
      permit: { id: lab.permitId },
      custody: [{ from: 'the finder', to: lab.as.volunteer.name }],
    });
    expect(made.number).toMatch(/^SB-\d{4}-\d{4}$/);
    expect(made.check?.reasons.map(({ code, clauseId }) => [code, clauseId])).toEqual(
      expect.arrayContaining([
        ['in-place', 'places'],
        ['taxon-allowed', 'taxa'],
      ]),
    );
    expect(made.caution).toContain('local rules decide');
    const events = await db().auditEvent.findMany({ where: { subjectId: made.id }, orderBy: { seq: 'asc' } });
    expect(events.map(({ kind }) => kind)).toEqual(['salvage.logged', 'salvage.coverage-checked']);
  });

  it('makes one record of a report that is delivered again, also at the same moment', async () => {
    const request = find(lab);
    const answers = await Promise.all(
      Array.from({ length: 4 }, () => reportFind(contextOf(lab.as.volunteer), request)),
    );
    const again = await reportFind(contextOf(lab.as.volunteer), request);
    expect(new Set([...answers, again].map(({ id }) => id)).size).toBe(1);
    expect(await db().salvageRecord.count({ where: { clientKey: request.requestKey } })).toBe(1);
  });

  it('numbers a dozen simultaneous finds without a gap or a twin', async () => {
    const own = await makeLab();
    const made = await Promise.all(
      Array.from({ length: 12 }, () => reportFind(contextOf(own.as.volunteer), find(own))),
    );
    const running = made.map(({ number }) => Number(/(\d+)$/.exec(number)?.[1])).sort((a, b) => a - b);
    expect(running).toEqual(Array.from({ length: 12 }, (_, index) => index + 1));
  });

  it.each([
    [
      'found tomorrow',
      { found: { earliestOn: '2999-01-01', latestOn: '2999-01-01', verbatim: '' } },
      'found.latestOn',
      'has not come yet',
    ],
    ['received before it was found', { receivedOn: '2024-04-01' }, 'receivedOn', 'before it was found'],
    ['three birds on one record', { quantity: 3 }, 'quantity', 'number of its own'],
    ['a taxon that is not there', { taxonId: randomUUID() }, 'taxonId', 'not in the checklist'],
    [
      'a stranger as finder',
      { facts: { finderPersonId: randomUUID() } },
      'facts.finderPersonId',
      'no account',
    ],
  ])('refuses %s: the field, the reason, nothing written', async (_, changes, path, sentence) => {
    const before = await db().salvageRecord.count();
    await expect(report(changes)).rejects.toMatchObject({
      code: 'not-valid',
      fields: expect.arrayContaining([{ path, message: expect.stringContaining(sentence) }]),
    });
    expect(await db().salvageRecord.count()).toBe(before);
  });

  it.each([
    ['in the sea off another country', '51.5, 2.5', 'in the sea'],
    ['in another county', '41.5, -81.7', 'Cuyahoga'],
    ['with the sign left out', '39.96, 83.0', 'Perhaps 39.96, -83 is meant'],
    ['in words', 'near the bridge', 'not one of a coordinate'],
  ])('refuses coordinates %s', async (_, verbatimCoordinates, sentence) => {
    const place = { ...find(lab).place, verbatimCoordinates };
    await expect(report({ place })).rejects.toMatchObject({
      fields: [{ path: 'place.verbatimCoordinates', message: expect.stringContaining(sentence) }],
    });
  });

  it('reads coordinates as written and keeps the writing', async () => {
    const place = { ...find(lab).place, verbatimCoordinates: `39°57'40"N 83°00'00"W` };
    const made = await report({ place }, lab.as.preparator);
    expect(made.latitude).toBeCloseTo(39.9611, 3);
    expect(made.longitude).toBeCloseTo(-83, 3);
    expect(made.verbatimCoordinates).toBe(place.verbatimCoordinates);
    const check = await checkPlace(lab.as.volunteer, {
      latitude: 39.96,
      longitude: -83,
      country: 'US',
      stateProvince: 'Ohio',
      county: 'Cuyahoga',
    });
    expect(check).toMatchObject({
      agrees: false,
      located: { country: 'US', stateProvince: 'Ohio', county: 'Franklin' },
    });
  });

  it('keeps documents of an office for the officer', async () => {
    const facts = { ...find(lab).facts, contactDocument: 'letter 12' };
    await expect(report({ facts })).rejects.toMatchObject({ code: 'forbidden' });
    expect((await report({ facts }, lab.as['permit-officer'])).facts.contactDocument).toBe('letter 12');
  });

  it('is not for visitors and administrators', async () => {
    for (const role of ['visitor', 'administrator'] as const) {
      await expect(report({}, lab.as[role])).rejects.toMatchObject({ code: 'forbidden' });
    }
  });
});

describe('changing a find', () => {
  const change = (
    record: { id: string; version: number },
    changes: Record<string, unknown>,
    as = lab.as.preparator,
  ) =>
    changeFind(
      contextOf(as),
      record.id,
      changeFindRequest.parse({ version: record.version, reason: 'a test', ...changes }),
    );

  it('changes only what is named, checks again and tells from what to what', async () => {
    const made = await report();
    const place = { ...find(lab).place, stateProvince: 'Indiana', county: 'Marion' };
    const changed = await change(made, { place });
    expect(changed).toMatchObject({
      coverage: 'not-covered',
      stateProvince: 'Indiana',
      cause: 'window-strike',
    });
    expect(changed.check?.reasons).toContainEqual(
      expect.objectContaining({ code: 'out-of-place', clauseId: 'places' }),
    );
    expect(changed.holds).toEqual(['quarantine']);
    const event = await db().auditEvent.findFirst({ where: { subjectId: made.id, kind: 'salvage.changed' } });
    expect(event?.payload).toMatchObject({ changes: { stateProvince: { from: 'Ohio', to: 'Indiana' } } });
    const back = await change(changed, { place: find(lab).place });
    expect(back).toMatchObject({ coverage: 'covered', holds: [] });
  });

  it('answers a stale version with what stands now', async () => {
    const made = await report();
    await change(made, { condition: 'poor' });
    await expect(change(made, { condition: 'good' })).rejects.toMatchObject({
      code: 'stale-version',
      data: { current: { id: made.id, condition: 'poor', version: made.version + 1 } },
    });
  });

  it('is for the volunteer who logged it until triage begins', async () => {
    const made = await report();
    expect(made.abilities.change).toBe(true);
    await change(made, { condition: 'good' }, lab.as.volunteer);
    const other = await makeActor(db(), lab.collectionId, 'volunteer');
    const now = await showFind(other, made.id);
    expect(now.abilities.change).toBe(false);
    await expect(change(now, { condition: 'fair' }, other)).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('refuses impossible days', async () => {
    const made = await report();
    await expect(change(made, { receivedOn: '2024-01-01' })).rejects.toMatchObject({
      fields: [{ path: 'receivedOn' }],
    });
    const parsed = changeFindRequest.safeParse({ version: 1, reason: 'x', receivedOn: '2025-02-30' });
    expect(parsed.success).toBe(false);
  });
});

describe('who sees what', () => {
  it('withholds the exact place of a sensitive taxon from those who may not see it, in the record and in the search', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Athene cunicularia', sensitive: true });
    const locality = `Secret quarry ${randomUUID().slice(0, 6)}`;
    const place = { ...find(lab).place, locality, verbatimCoordinates: '39.96, -83.0' };
    const made = await report({ taxonId, place }, lab.as.preparator);
    expect(made).toMatchObject({ exactPlace: true, locality, latitude: 39.96 });
    const seen = await showFind(lab.as.volunteer, made.id);
    expect(seen).toMatchObject({
      exactPlace: false,
      locality: null,
      latitude: null,
      verbatimCoordinates: null,
      county: 'Franklin',
    });
    const search = { size: 50, q: locality };
    expect((await listFinds(lab.as.preparator, search)).rows).toHaveLength(1);
    expect((await listFinds(lab.as.volunteer, search)).rows).toHaveLength(0);
  });

  it('lists what waits first, filters, counts, and pages without loss', async () => {
    const own = await makeLab();
    const ids: string[] = [];
    for (let count = 0; count < 5; count += 1) {
      const county = count % 2 === 0 ? 'Franklin' : 'Delaware';
      const made = await reportFind(
        contextOf(own.as.volunteer),
        find(own, { place: { ...find(own).place, county } }),
      );
      ids.push(made.id);
    }
    await db().salvageRecord.update({ where: { id: ids[0] }, data: { state: 'accepted' } });
    const first = await listFinds(own.as.curator, { size: 50 });
    expect(first.rows.map(({ id }) => id)).toEqual([ids[1], ids[2], ids[3], ids[4], ids[0]]);
    expect(first.counts).toMatchObject({ reported: 4, accepted: 1 });
    expect((await listFinds(own.as.curator, { size: 50, county: 'delaware' })).rows).toHaveLength(2);
    expect(
      (await listFinds(own.as.curator, { size: 50, state: 'waiting', coverage: 'covered' })).rows,
    ).toHaveLength(4);
    expect((await listFinds(own.as.curator, { size: 50, from: '2024-05-02' })).rows).toHaveLength(0);
    expect((await listFinds(own.as.curator, { size: 50, q: '%' })).rows).toHaveLength(0);
    const paged: string[] = [];
    let after: string | undefined;
    do {
      const page = await listFinds(own.as.curator, { size: 2, after });
      paged.push(...page.rows.map(({ id }) => id));
      after = page.next ?? undefined;
    } while (after !== undefined);
    expect(paged).toEqual(first.rows.map(({ id }) => id));
  });

  it('shows nothing of another collection', async () => {
    const made = await report();
    const stranger = await makeActor(db(), await makeCollection(db()), 'curator');
    await expect(showFind(stranger, made.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});
