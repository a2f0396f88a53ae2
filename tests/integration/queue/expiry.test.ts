import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { expireClaims } from '@/lib/queue/claim-expiry';
import { handBirdOver, nameCoWorker, takeBird } from '@/lib/queue/claims';
import { rankQueue } from '@/lib/queue/jobs';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { doNotices, kindsToldTo } from '../notices/work';

const START = Date.UTC(2026, 4, 1, 8);
const onDay = (day: number) => pinClock(new Date(START + day * 86_400_000));
let collectionId: string;
let preparator: Actor;

beforeEach(async () => {
  onDay(0);
  collectionId = await makeCollection(db());
  await makeTaxon(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});
afterEach(() => pinClock(null));

const birdNow = (id: string) => db().bird.findUniqueOrThrow({ where: { id } });

describe('claims that come to their end (14 days, told 3 days ahead)', () => {
  it('the person is told once, then the bird returns to the queue, both in its story', async () => {
    const bird = await makeBird(db(), collectionId);
    await takeBird(contextOf(preparator), bird.id, {});
    onDay(10);
    expect(await expireClaims(collectionId)).toEqual({ told: 0, ranOut: 0 });
    onDay(11.5);
    expect(await expireClaims(collectionId)).toEqual({ told: 1, ranOut: 0 });
    expect(await expireClaims(collectionId)).toEqual({ told: 0, ranOut: 0 });
    onDay(14.2);
    expect(await expireClaims(collectionId), 'told less than three days ago').toEqual({ told: 0, ranOut: 0 });
    onDay(14.6);
    expect(await expireClaims(collectionId)).toEqual({ told: 0, ranOut: 1 });
    expect(await birdNow(bird.id)).toMatchObject({
      state: 'queued',
      claimedById: null,
      claimNoticedAt: null,
    });
    await doNotices();
    expect(await kindsToldTo(preparator)).toEqual(['queue.claim-ending', 'queue.claim-ran-out']);
    const story = await db().auditEvent.findMany({ where: { birdId: bird.id }, orderBy: { seq: 'asc' } });
    expect(story.map(({ kind, actorName }) => [kind, actorName])).toEqual([
      ['queue.taken', preparator.name],
      ['queue.claim-ending', 'Furcula'],
      ['queue.claim-ran-out', 'Furcula'],
    ]);
  });

  it('a bird handed over starts anew; one that thaws never runs out', async () => {
    const [handed, thawing] = await Promise.all([1, 2].map(() => makeBird(db(), collectionId)));
    const other = await makeActor(db(), collectionId, 'preparator');
    for (const bird of [handed, thawing]) await takeBird(contextOf(preparator), bird?.id ?? '', {});
    await db().bird.update({ where: { id: thawing?.id }, data: { state: 'thawing' } });
    onDay(12);
    expect(await expireClaims(collectionId)).toEqual({ told: 1, ranOut: 0 });
    await handBirdOver(contextOf(preparator), handed?.id ?? '', { toPersonId: other.personId ?? '' });
    onDay(20);
    expect(await expireClaims(collectionId)).toEqual({ told: 0, ranOut: 0 });
    await doNotices();
    expect(await kindsToldTo(other)).toEqual(['queue.assigned']);
  });
});

describe('working together', () => {
  it('a co-worker is named, not the claimant, and forgotten when the bird is handed over', async () => {
    const bird = await makeBird(db(), collectionId);
    const other = await makeActor(db(), collectionId, 'preparator');
    const third = await makeActor(db(), collectionId, 'preparator');
    const { version } = await takeBird(contextOf(preparator), bird.id, {});
    await expect(
      nameCoWorker(contextOf(preparator), bird.id, { version, withPersonId: preparator.personId }),
    ).rejects.toMatchObject({ code: 'conflict' });
    const both = await nameCoWorker(contextOf(preparator), bird.id, {
      version,
      withPersonId: other.personId,
    });
    expect(both.coWorker?.name).toBe(other.name);
    await expect(
      nameCoWorker(contextOf(preparator), bird.id, { version, withPersonId: third.personId }),
    ).rejects.toMatchObject({ code: 'stale-version' });
    const handed = await handBirdOver(contextOf(preparator), bird.id, { toPersonId: third.personId ?? '' });
    expect(handed.coWorker).toBeNull();
  });
});

describe('the nightly ranking', () => {
  it('raises a bird that has waited longer', async () => {
    const bird = await makeBird(db(), collectionId);
    await db().bird.update({ where: { id: bird.id }, data: { frozenAt: new Date(START) } });
    await rankQueue(collectionId);
    const before = (await birdNow(bird.id)).priority;
    onDay(200);
    expect(await rankQueue(collectionId)).toBe(1);
    expect((await birdNow(bird.id)).priority).toBeGreaterThan(before);
  });
});
