import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { makeActor, makeTaxon } from '@/seed/factories';
import { type Act, listActs, openYear, ROLES_OF_BENCH } from '@/tests/bench/acts';
import { fillCollection } from '@/tests/bench/collection';
import { largeTables, plansOf, readWhole } from '@/tests/bench/plans';

const BIRDS = 20_000;
const LARGE = 10_000;
const KEYED = [
  'queue',
  'search by number',
  'number in the head’s box',
  'catalogue sheet',
  'bird with its life',
  'box map',
  'review desk',
  'history of a bird',
  'history of the collection',
];

let pool: pg.Pool;
let actor: Actor;
let acts: Act[];
let large: Set<string>;

beforeAll(async () => {
  pool = new pg.Pool({ connectionString: process.env.DATABASE_URL, max: 2 });
  for (let at = 0; at < 200; at += 1)
    await makeTaxon(db(), { scientificName: at === 0 ? 'Turdus migratorius' : `Testornis numerus${at}` });
  for (let at = 0; at < 20; at += 1)
    await db().person.create({ data: { name: `Person ${at}`, email: `person-${at}@test.example` } });
  const { collectionId } = await fillCollection(process.env.DATABASE_URL ?? '', BIRDS);
  actor = await makeActor(db(), collectionId, ...ROLES_OF_BENCH);
  await openYear(pool, collectionId, actor.personId ?? '');
  acts = (await listActs(pool, collectionId)).filter(({ kind, isKeyed }) => kind === 'read' && isKeyed);
  large = await largeTables(pool, LARGE);
});

afterAll(() => pool.end());

describe(`what PostgreSQL reads for the main reads by keys, among ${BIRDS} birds`, () => {
  it('every such read is looked at, and there are tables to read whole', () => {
    expect(acts.map(({ name }) => name)).toEqual(KEYED);
    expect([...large]).toEqual(
      expect.arrayContaining([
        'Bird',
        'Material',
        'SalvageRecord',
        'CatalogueIndex',
        'AuditEvent',
        'MaterialMove',
      ]),
    );
  });

  it('a scan of a large table would be seen', async () => {
    const { rows } = await pool.query(
      `EXPLAIN (FORMAT JSON) SELECT * FROM "Bird" WHERE "requestReason" = 'x'`,
    );
    expect(readWhole(rows[0]['QUERY PLAN'][0].Plan)).toEqual(['Bird']);
  });

  it.each(KEYED)('%s: no large table is read whole', async (name) => {
    const act = acts.find((one) => one.name === name);
    if (act === undefined) throw new Error(`No act is called ${name}.`);
    const plans = await plansOf(pool, act, actor);
    expect(plans.length).toBeGreaterThan(0);
    const bad = plans.flatMap(({ text, node }) =>
      readWhole(node).flatMap((table) => (large.has(table) ? [`${table}: ${text}`] : [])),
    );
    expect(bad).toEqual([]);
  });
});
