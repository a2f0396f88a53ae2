import { describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import { takeBird } from '@/lib/queue/claims';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';

const PEOPLE = 40;
const BIRDS = 30;
const PRESSES = 5;

describe('many people and many birds at once', () => {
  it('no bird is taken twice and none is lost, and the books agree', async () => {
    const collectionId = await makeCollection(db());
    const people: Actor[] = [];
    for (let at = 0; at < PEOPLE; at++) people.push(await makeActor(db(), collectionId, 'preparator'));
    const birds: { id: string }[] = [];
    for (let at = 0; at < BIRDS; at++) birds.push(await makeBird(db(), collectionId));
    const presses = people.flatMap((actor, person) =>
      Array.from({ length: PRESSES }, (_, press) => ({
        actor,
        birdId: birds[(person + press * 7) % BIRDS]?.id ?? '',
      })),
    );
    expect(presses).toHaveLength(200);
    const outcomes = await Promise.allSettled(
      presses.map(({ actor, birdId }) => takeBird(contextOf(actor), birdId, {})),
    );
    const winners = presses.filter((_, at) => outcomes[at]?.status === 'fulfilled');
    const codes = outcomes.flatMap((one) =>
      one.status === 'fulfilled' ? [] : [one.reason instanceof AppError ? one.reason.code : 'failure'],
    );
    // 'unavailable': a very busy machine told them to try again; nothing was saved for them.
    for (const code of codes) expect(['conflict', 'unavailable']).toContain(code);
    expect(new Set(winners.map(({ birdId }) => birdId)).size, 'none twice').toBe(winners.length);
    const rows = await db().bird.findMany({ where: { collectionId } });
    for (const row of rows) {
      const winner = winners.find(({ birdId }) => birdId === row.id);
      expect(row).toMatchObject(
        winner === undefined
          ? { state: 'queued', claimedById: null }
          : { state: 'claimed', claimedById: winner.actor.personId },
      );
    }
    const events = await db().auditEvent.findMany({ where: { collectionId, kind: 'queue.taken' } });
    expect(events.map(({ birdId }) => birdId).sort()).toEqual(winners.map(({ birdId }) => birdId).sort());
    if (!codes.includes('unavailable')) expect(winners, 'none lost').toHaveLength(BIRDS);
  });
});
