import { performance } from 'node:perf_hooks';
import { setTimeout as wait } from 'node:timers/promises';
import pg from 'pg';
import { findQuickly, searchCatalogue } from '@/lib/catalogue/service/search';
import type { Actor } from '@/lib/platform/actor';
import { closeDb, db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { makeActor } from '@/seed/factories';
import { fillCollection } from './search-collection';

/**
 * How long a search takes at the server for each of 20 users among 1,000,000 materials, beside the same SQL sent bare:
 * a user searches, reads for a second, and searches again. On a throwaway database with the demo in it:
 * `DATABASE_URL=… node --conditions=react-server --import tsx tests/bench/search-bench.ts`
 * (`BENCH_COLLECTION=<id>` uses the collection of an earlier run.)
 */
const MATERIALS = 1_000_000;
const USERS = 20;
const SEARCHES = 25;
const READING_MS = 1000;

type Statement = { text: string; values: unknown[] };
type Search = (n: number) => Promise<unknown>;

/** Everything that pg sends while `act` runs. */
async function recordStatements(act: () => Promise<unknown>): Promise<Statement[]> {
  const sent: Statement[] = [];
  const original = pg.Client.prototype.query;
  pg.Client.prototype.query = function (this: pg.Client, ...given: unknown[]) {
    const [first, second] = given as [string | Statement, unknown[] | undefined];
    const text = typeof first === 'string' ? first : first.text;
    const values = (typeof first === 'string' ? second : first.values) ?? [];
    if (/^\s*(SELECT|WITH)/i.test(text)) sent.push({ text, values: Array.isArray(values) ? values : [] });
    return (original as (...all: unknown[]) => unknown).apply(this, given);
  } as typeof original;
  await act().finally(() => {
    pg.Client.prototype.query = original;
  });
  return sent;
}

async function timeUsers(what: string, search: Search): Promise<void> {
  await Promise.all(Array.from({ length: USERS }, (_, user) => search(user)));
  const took: number[] = [];
  const users = Array.from({ length: USERS }, async (_, user) => {
    await wait((READING_MS * user) / USERS);
    for (let turn = 0; turn < SEARCHES; turn += 1) {
      const begun = performance.now();
      await search(user * SEARCHES + turn);
      took.push(performance.now() - begun);
      await wait(READING_MS * (0.5 + Math.random()));
    }
  });
  await Promise.all(users);
  took.sort((a, b) => a - b);
  const of = (share: number) => took[Math.floor(share * (took.length - 1))]?.toFixed(1);
  console.log(`${what}: median ${of(0.5)} ms, 95 % within ${of(0.95)} ms, longest ${of(1)} ms`);
}

async function compare(what: string, pool: pg.Pool, search: Search): Promise<void> {
  await timeUsers(`${what}, at the server`, search);
  const statements = await recordStatements(() => search(USERS));
  await timeUsers(`${what}, its ${statements.length} statements bare`, async () => {
    for (const { text, values } of statements) await pool.query(text, values);
  });
}

const misspelled = ['Turdus migratorus', 'Zonotrichia albicolis', 'Melospiza melodja', 'Catharus ustulattus'];

async function main(): Promise<void> {
  const url = settings().DATABASE_URL;
  if (url === undefined) throw new Error('Say DATABASE_URL: a throwaway database with the demo in it.');
  const begun = performance.now();
  const collectionId = process.env.BENCH_COLLECTION ?? (await fillCollection(url, MATERIALS));
  const materials = await db().material.count({ where: { collectionId } });
  const seconds = ((performance.now() - begun) / 1000).toFixed(0);
  console.log(`${materials} materials in collection ${collectionId}, made in ${seconds} s`);
  const curator: Actor = await makeActor(db(), collectionId, 'curator');
  const pool = new pg.Pool({ connectionString: url, max: USERS });
  const size = 40;
  const sort = '-number';
  const birdOf = (n: number) => 1 + ((n * 7919) % Math.floor(MATERIALS / 3));
  const numberOf = (n: number) => `B-${String(birdOf(n)).padStart(7, '0')}`;
  await compare('By number', pool, (n) => searchCatalogue(curator, { q: numberOf(n), size, sort }));
  await compare('By figures in the head’s box', pool, (n) => findQuickly(curator, String(birdOf(n))));
  await compare('By misspelled name with facets', pool, (n) =>
    searchCatalogue(curator, { q: misspelled[n % misspelled.length] ?? '', size, sort }),
  );
  await compare('Females of a kind, March to May', pool, () =>
    searchCatalogue(curator, { q: 'taxon:Turdus sex:female month:3-5', size, sort }),
  );
  await pool.end();
  await closeDb();
}

main().catch((error) => {
  console.error(error);
  process.exitCode = 1;
});
