import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { makeActor, makeTaxon } from '@/seed/factories';
import { type Act, listActs, openYear, ROLES_OF_BENCH } from '@/tests/bench/acts';
import { fillCollection } from '@/tests/bench/collection';
import { recordStatements } from '@/tests/bench/statements';

/** At most so many statements an act; lower a number when an act gets cheaper. */
const MOST: Record<string, number> = {
  queue: 2,
  'search by number': 5,
  'number in the head’s box': 3,
  'search by misspelled name with facets': 8,
  'search by kind with sex and months': 8,
  'catalogue sheet': 3,
  'bird with its life': 3,
  'box map': 3,
  'review desk': 3,
  'history of a bird': 1,
  'history of the collection': 1,
  report: 9,
  'report’s lines': 3,
  desk: 24,
  'counts of what waits': 2,
  salvage: 29,
  claim: 6,
  'bench autosave': 7,
  approve: 15,
  move: 10,
  'loan return': 21,
};

const SIZES = [40, 400] as const;
/** A pile of the desk that is shown whole is not counted: it is held against a collection where none is. */
const LONG_PILES = 120;
const TAXA = ['Turdus migratorius', 'Zonotrichia albicollis', 'Melospiza melodia', 'Catharus ustulatus'];

type Lab = { actor: Actor; acts: Map<string, Act> };
let pool: pg.Pool;
let small: Lab;
let middle: Lab;
let large: Lab;

async function makeLab(birds: number): Promise<Lab> {
  const { collectionId } = await fillCollection(process.env.DATABASE_URL ?? '', birds);
  const actor = await makeActor(db(), collectionId, ...ROLES_OF_BENCH);
  await openYear(pool, collectionId, actor.personId ?? '');
  return { actor, acts: new Map((await listActs(pool, collectionId)).map((act) => [act.name, act])) };
}

beforeAll(async () => {
  pool = new pg.Pool({ connectionString: process.env.DATABASE_URL, max: 2 });
  for (const scientificName of TAXA) await makeTaxon(db(), { scientificName });
  for (let at = 0; at < 5; at += 1)
    await db().person.create({ data: { name: `Person ${at}`, email: `person-${at}@test.example` } });
  small = await makeLab(SIZES[0]);
  middle = await makeLab(LONG_PILES);
  large = await makeLab(SIZES[1]);
});

afterAll(() => pool.end());

function actOf({ acts }: Lab, name: string): Act {
  const act = acts.get(name);
  if (act === undefined) throw new Error(`No act is called ${name}.`);
  return act;
}

/** @param at once so many people do it */
async function count(lab: Lab, name: string, at = 1): Promise<number> {
  const act = actOf(lab, name);
  const all = () => Promise.all(Array.from({ length: at }, () => act.call(lab.actor, 0)));
  return (await recordStatements(all)).length;
}

describe(`how many statements an act sends, with ${SIZES.join(' and with ')} birds`, () => {
  it('every act that is measured is counted', () => {
    expect(Object.keys(MOST).sort()).toEqual([...small.acts.keys()].sort());
  });

  it.each(Object.entries(MOST))('%s: %i at most, and no more in a larger collection', async (name, most) => {
    const few = await count(name === 'desk' ? middle : small, name);
    const many = await count(large, name);
    expect(few, 'that something was counted').toBeGreaterThan(0);
    expect(few).toBeLessThanOrEqual(most);
    expect(many, 'in the larger collection').toBeLessThanOrEqual(few);
  });

  it('an open report that has changed is made once for all who ask at the same time', async () => {
    const change = (at: number) => actOf(large, 'salvage').call(large.actor, at);
    await change(11);
    const [changed, unchanged] = [await count(large, 'report'), await count(large, 'report')];
    // So many connections are open then that nobody waits for one until the first has its answer.
    await count(large, 'report', 10);
    await change(12);
    expect(changed).toBeGreaterThan(unchanged);
    expect(await count(large, 'report', 10)).toBe(changed + 9 * unchanged);
  });
});
