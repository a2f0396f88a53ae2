import { beforeAll, describe, expect, it } from 'vitest';
import { chartSearch, mapSearch, showNumbers } from '@/lib/catalogue/service/figures';
import { approveRecord } from '@/lib/catalogue/service/review';
import { searchCatalogue } from '@/lib/catalogue/service/search';
import { generalisePlace, locatePoint, SHARED_STEP } from '@/lib/places/public-rules';
import type { Actor } from '@/lib/platform/actor';
import { dateColumn, dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

let collectionId: string;
let curator: Actor;
let volunteer: Actor;
let visitor: Actor;
let falcons: Awaited<ReturnType<typeof makeInReview>>[];

/** Corners, borders of cells and both sides of the equator and the zero meridian. */
const FALCON_POINTS = [
  { latitude: 40.12347, longitude: -82.65431 },
  { latitude: 40.3, longitude: -82.7 },
  { latitude: -33.85, longitude: 151.2 },
  { latitude: 0, longitude: 0 },
  { latitude: 89.99, longitude: 180 },
];
const ROBIN_POINTS = [
  { latitude: 39.9635, longitude: -83.0012 },
  { latitude: 39.9648, longitude: -83.0031 },
  { latitude: 40.3, longitude: -82.7 },
];

const put = (salvageId: string, data: object) =>
  db().salvageRecord.update({ where: { id: salvageId }, data });

beforeAll(async () => {
  collectionId = await makeCollection(db());
  const preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  visitor = await makeActor(db(), collectionId, 'visitor');
  const gyr = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  falcons = [];
  for (const point of FALCON_POINTS) {
    const made = await makeInReview(db(), preparator, { taxonId: gyr, foundOn: '2024-11-30' });
    await put(made.bird.salvageId, { ...point, cause: 'vehicle-strike' });
    falcons.push(made);
  }
  const thrush = await makeTaxon(db());
  for (const [at, point] of ROBIN_POINTS.entries()) {
    const male = { sex: 'male', leftTestis: { lengthMm: 9 }, leftOvary: undefined };
    const made = await makeInReview(db(), preparator, {
      taxonId: thrush,
      foundOn: `202${at + 2}-04-03`,
      receivedOn: `202${at + 2}-04-04`,
      values: { massG: 70 + 10 * at, wingMm: at === 0 ? undefined : 120 + at, ...(at === 2 ? male : {}) },
    });
    await db().bird.update({ where: { id: made.bird.id }, data: { sex: at === 2 ? 'male' : 'female' } });
    await put(made.bird.salvageId, { ...point, cause: 'window-strike' });
    if (at < 2) await approveRecord(contextOf(curator), made.record.id, { version: 1, explanations: {} });
  }
  for (const { record } of falcons.slice(0, 2))
    await approveRecord(contextOf(curator), record.id, { version: 1, explanations: {} });
  const waiting = await makeBird(db(), collectionId, { taxonId: thrush, foundOn: '2025-02-27' });
  await put(waiting.salvageId, { foundTo: dateColumn('2025-03-02') });
});

const map = (actor: Actor, q = '', step = 0.05) => mapSearch(actor, { q, step });
const listed = async (actor: Actor, q: string) =>
  (await searchCatalogue(actor, { q, size: 50, sort: 'number' })).rows.length;

describe('the map of a search', () => {
  it('has exact points for those who may see them, and says what has none', async () => {
    const { marks, total, unplaced, by } = await map(curator);
    expect({ total, unplaced, by }).toEqual({ total: 9, unplaced: 1, by: 'points' });
    expect(marks.reduce((sum, { count }) => sum + count, 0)).toBe(8);
    expect(marks.every(({ coarse }) => coarse === 0)).toBe(true);
    const pair = marks.find(({ latitude }) => latitude < 40 && latitude > 39);
    expect(pair).toMatchObject({ count: 2, places: ['Franklin, Ohio'] });
    expect(pair?.latitude).toBeCloseTo((39.9635 + 39.9648) / 2, 5);
    expect(marks.some(({ latitude, longitude }) => latitude === 40.12347 && longitude === -82.65431)).toBe(
      true,
    );
  });

  it('gives sensitive birds to other staff as exports do, cell by cell', async () => {
    for (const [at, point] of FALCON_POINTS.entries()) {
      const shared = generalisePlace({ ...point, uncertaintyM: null }, SHARED_STEP);
      const { marks } = await map(volunteer, `number:${falcons[at]?.bird.number}`);
      expect(marks, JSON.stringify(point)).toMatchObject([
        { latitude: shared.latitude, longitude: shared.longitude, count: 1, coarse: 1 },
      ]);
    }
    const robins = await map(volunteer, 'Turdus');
    expect(robins.marks.every(({ coarse }) => coarse === 0)).toBe(true);
    expect(robins.marks.some(({ latitude, longitude }) => latitude === 40.3 && longitude === -82.7)).toBe(
      true,
    );
  });

  it.each([0.05, 0.1, 0.5, 1, 5, 10])('each mark of %f° opens exactly its birds', async (step) => {
    for (const actor of [curator, volunteer]) {
      const { marks } = await map(actor, '', step);
      for (const mark of marks)
        expect(await listed(actor, mark.terms.join(' ')), mark.terms[0]).toBe(mark.count);
    }
  });

  it('has for a visitor the middles of counties, of sensitive birds the state only', async () => {
    const { marks, total, unplaced, by } = await map(visitor);
    expect({ total, unplaced, by }).toEqual({ total: 4, unplaced: 0, by: 'counties' });
    const [county, state] = ['Franklin, Ohio', 'Ohio'].map((name) =>
      marks.find(({ places }) => places[0] === name),
    );
    expect(county).toMatchObject({ count: 2, coarse: 0, terms: ['county:Franklin', 'place:Ohio'] });
    expect(state).toMatchObject({ count: 2, coarse: 2, terms: ['place:Ohio'] });
    expect(locatePoint(county ?? { latitude: 0, longitude: 0 })).toMatchObject({
      state: 'Ohio',
      county: 'Franklin',
    });
    expect(await listed(visitor, county?.terms.join(' ') ?? '')).toBe(2);
  });

  it('takes the filter of the list, and says what of it was not understood', async () => {
    expect(await map(curator, 'Turdus found:2023')).toMatchObject({ total: 1 });
    expect((await map(curator, 'colour:red')).problems).toHaveLength(1);
    expect(await map(visitor, 'within:39..41/-84..-82')).toMatchObject({ total: 0, marks: [] });
  });
});

describe('the charts of a search', () => {
  it('count months by cause, years by sex, and quartiles by sex', async () => {
    const { total, taxa, months, years, sexes, measures } = await chartSearch(curator, 'Turdus');
    expect({ total, taxa }).toEqual({ total: 4, taxa: 1 });
    expect(months.unknown).toBe(1);
    expect(months.rows[3]).toEqual({ key: 4, counts: [3] });
    expect(months.series).toEqual(['window-strike']);
    expect(years).toEqual({
      series: ['female', 'male', 'undetermined'],
      rows: [
        { key: 2022, counts: [1, 0, 0] },
        { key: 2023, counts: [1, 0, 0] },
        { key: 2024, counts: [0, 1, 0] },
        { key: 2025, counts: [0, 0, 1] },
      ],
      unknown: 0,
    });
    expect(sexes).toMatchObject({ female: 2, male: 1, undetermined: 1 });
    expect(measures).toEqual([
      {
        field: 'massG',
        sex: 'female',
        count: 2,
        least: 70,
        lowerQuartile: 72.5,
        median: 75,
        upperQuartile: 77.5,
        most: 80,
      },
      {
        field: 'massG',
        sex: 'male',
        count: 1,
        least: 90,
        lowerQuartile: 90,
        median: 90,
        upperQuartile: 90,
        most: 90,
      },
      {
        field: 'wingMm',
        sex: 'female',
        count: 1,
        least: 121,
        lowerQuartile: 121,
        median: 121,
        upperQuartile: 121,
        most: 121,
      },
      {
        field: 'wingMm',
        sex: 'male',
        count: 1,
        least: 122,
        lowerQuartile: 122,
        median: 122,
        upperQuartile: 122,
        most: 122,
      },
    ]);
  });

  it('count for a visitor what is approved', async () => {
    expect((await chartSearch(visitor, '')).total).toBe(4);
    expect((await chartSearch(curator, '')).total).toBe(9);
  });

  it('of nothing are empty', async () => {
    expect(await chartSearch(curator, 'sex:male Falco')).toMatchObject({
      total: 0,
      taxa: 0,
      years: { rows: [] },
      measures: [],
      sexes: { femaleShare: null },
    });
  });
});

describe("the lab's numbers", () => {
  it('add up to the birds that are here', async () => {
    const today = dayIn('UTC', now());
    await db().bird.updateMany({ where: { collectionId, state: 'queued' }, data: { frozenAt: now() } });
    await db().benchRecord.updateMany({
      where: { collectionId, state: 'in-review', birdId: { in: falcons.map(({ bird }) => bird.id) } },
      data: { finishedAt: now() },
    });
    const numbers = await showNumbers(curator, { years: 20 });
    expect(numbers.intake.rows.flatMap(({ counts }) => counts).reduce((a, b) => a + b)).toBe(9);
    expect(numbers.intake.rows.find(({ key }) => key === '2023-04')?.counts).toContain(1);
    expect(numbers.intake.rows.at(-1)?.key).toBe(today.slice(0, 7));
    expect(numbers.prepared).toMatchObject({
      series: ['skin-with-partial-skeleton'],
      rows: [{ counts: [3] }],
    });
    expect(numbers.freezer[0]).toEqual({ age: 'under 3 months', count: 1 });
    expect(numbers.backlog.at(-1)?.waiting).toBe(1);
    expect(numbers.undated).toBe(0);
  });

  it('are for staff and administrators', async () => {
    await expect(showNumbers(visitor, { years: 3 })).rejects.toMatchObject({ code: 'forbidden' });
    await expect(showNumbers(volunteer, { years: 3 })).resolves.toBeDefined();
  });
});
