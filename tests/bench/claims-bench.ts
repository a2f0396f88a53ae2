import { performance } from 'node:perf_hooks';
import { setTimeout } from 'node:timers/promises';
import { quantile, shuffler } from 'd3-array';
import type { Actor } from '@/lib/platform/actor';
import { closeDb, db } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import { takeBird } from '@/lib/queue/claims';
import { seededRandom } from '@/lib/queue/rules/random';
import { listQueue } from '@/lib/queue/service';
import { queueListQuery } from '@/lib/queue/wire';
import { contextOf, makeActor, makeCollection, makePermit } from '@/seed/factories';
import { makeManyBirds } from './many-birds';

/**
 * 200 people press "Take this bird", one after the other within ten seconds and then all in one instant, each on any of the first 200 birds of a queue of 5,000, and on another one
 * where somebody was quicker. On a throwaway database with the migrations:
 * `DATABASE_URL=… node --conditions=react-server --import tsx tests/bench/claims-bench.ts`
 */
const BIRDS = 5000;
const PEOPLE = 200;

async function takeFirstFree(actor: Actor, birdIds: readonly string[], took: number[]): Promise<string> {
  for (const id of birdIds) {
    const begun = performance.now();
    try {
      await takeBird(contextOf(actor), id, {});
      return id;
    } catch (error) {
      if (!(error instanceof AppError) || error.code !== 'conflict') throw error;
    } finally {
      took.push(performance.now() - begun);
    }
  }
  throw new Error('No bird was left for somebody.');
}

async function main(): Promise<void> {
  const collectionId = await makeCollection(db());
  const people = await Promise.all(
    Array.from({ length: PEOPLE }, () => makeActor(db(), collectionId, 'preparator')),
  );
  const [first] = people;
  if (first === undefined) throw new Error('Nobody came.');
  const permitId = await makePermit(db(), collectionId, {});
  await makeManyBirds(db(), {
    collectionId,
    permitId,
    personId: first.personId ?? '',
    firstOn: '2024-01-02',
    count: BIRDS * 2,
  });
  const free = await db().bird.findMany({
    where: { collectionId, state: 'in-freezer', bench: null },
    select: { id: true },
    take: BIRDS,
  });
  await db().bird.updateMany({
    where: { id: { in: free.map(({ id }) => id) } },
    data: { state: 'queued', priority: 50, sizeClass: 'small', styleId: 'whole-skeleton' },
  });
  const { rows } = await listQueue(first, queueListQuery.parse({ states: 'queued', size: 200 }));
  const order = rows.map(({ id }) => id);
  // Everybody sees the same list and chooses from it without knowing of the others.
  const shuffle = shuffler(seededRandom(1));
  for (const withinMs of [10_000, 0]) {
    const took: number[] = [];
    const begun = performance.now();
    const taken = await Promise.all(
      people.map(async (actor, index) => {
        await setTimeout((withinMs * index) / PEOPLE);
        return takeFirstFree(actor, shuffle([...order]), took);
      }),
    );
    const wallMs = performance.now() - begun;
    const claimed = await db().bird.count({ where: { collectionId, state: 'claimed' } });
    const ms = (part: number) => quantile(took, part)?.toFixed(0);
    console.log(
      `${free.length} birds queued, ${PEOPLE} people ${withinMs === 0 ? 'in one instant' : `within ${withinMs / 1000} s`}: ` +
        `${new Set(taken).size} different birds taken, ${claimed} claimed in the database, ${took.length} tries in ` +
        `${(wallMs / 1000).toFixed(1)} s; a try: median ${ms(0.5)} ms, 95 % ${ms(0.95)} ms, longest ${ms(1)} ms`,
    );
    await db().bird.updateMany({
      where: { id: { in: taken } },
      data: { state: 'queued', claimedById: null, claimedAt: null, claimExpiresAt: null },
    });
  }
  await closeDb();
}

void main();
