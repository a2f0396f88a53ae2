import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import { handBirdOver, putBirdBack, takeBird } from '@/lib/queue/claims';
import { enqueueBirds, listQueue, takeOutOfFreezer } from '@/lib/queue/service';
import { signSkill } from '@/lib/queue/skills';
import { queueListQuery } from '@/lib/queue/wire';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';

let collectionId: string;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});

const skilled = async (...levels: ('alone' | 'supervised')[]): Promise<Actor> => {
  const volunteer = await makeActor(db(), collectionId, 'volunteer');
  for (const level of levels) {
    await signSkill(contextOf(preparator), {
      personId: volunteer.personId ?? '',
      style: 'skin-with-partial-skeleton',
      sizeClass: 'medium',
      level,
    });
  }
  return volunteer;
};

const codeOf = (outcome: PromiseSettledResult<unknown>): string =>
  outcome.status === 'fulfilled'
    ? 'taken'
    : outcome.reason instanceof AppError
      ? outcome.reason.code
      : 'failure';

describe('claiming a bird', () => {
  it('of 50 people who press at once exactly one gets it, the others hear so', async () => {
    const bird = await makeBird(db(), collectionId);
    const people = await Promise.all(
      Array.from({ length: 50 }, () => makeActor(db(), collectionId, 'preparator')),
    );
    const outcomes = (
      await Promise.allSettled(people.map((actor) => takeBird(contextOf(actor), bird.id, {})))
    ).map(codeOf);
    expect(outcomes.filter((code) => code === 'taken')).toHaveLength(1);
    // On a very busy machine some are told to try again instead: nothing was saved for them either.
    const refused = outcomes.filter((code) => code === 'conflict' || code === 'unavailable');
    expect(refused).toHaveLength(49);
    const events = await db().auditEvent.findMany({ where: { birdId: bird.id, kind: 'queue.taken' } });
    expect(events).toHaveLength(1);
  });

  it('a volunteer takes within the skills signed off, and only so many at once', async () => {
    const volunteer = await skilled('alone');
    const birds = await Promise.all(Array.from({ length: 4 }, () => makeBird(db(), collectionId)));
    const outcomes = [];
    for (const bird of birds)
      outcomes.push(codeOf((await Promise.allSettled([takeBird(contextOf(volunteer), bird.id, {})]))[0]));
    expect(outcomes).toEqual(['taken', 'taken', 'taken', 'forbidden']);
    const large = await makeBird(db(), collectionId);
    await db().bird.update({ where: { id: large.id }, data: { sizeClass: 'large' } });
    await expect(takeBird(contextOf(await skilled('alone')), large.id, {})).rejects.toMatchObject({
      code: 'forbidden',
    });
  });

  it('one who is not alone yet names a supervisor', async () => {
    const volunteer = await skilled('supervised');
    const bird = await makeBird(db(), collectionId);
    await expect(takeBird(contextOf(volunteer), bird.id, {})).rejects.toMatchObject({ code: 'forbidden' });
    const other = await makeActor(db(), collectionId, 'preparator');
    await signSkill(contextOf(preparator), {
      personId: other.personId ?? '',
      style: 'skin-with-partial-skeleton',
      sizeClass: 'medium',
      level: 'alone',
    });
    const taken = await takeBird(contextOf(volunteer), bird.id, { supervisorId: other.personId ?? '' });
    expect(taken.claimedBy?.name).toBe(volunteer.name);
  });

  it('a bird on hold is refused with the reason', async () => {
    const bird = await makeBird(db(), collectionId);
    await db().hold.create({
      data: { salvageId: bird.salvageId, kind: 'disease', reason: 'suspected influenza' },
    });
    await expect(takeBird(contextOf(preparator), bird.id, {})).rejects.toMatchObject({ code: 'conflict' });
  });

  it('is put back, handed over and taken out by those whose it is', async () => {
    const volunteer = await skilled('alone');
    const stranger = await skilled('alone');
    const bird = await makeBird(db(), collectionId);
    await takeBird(contextOf(volunteer), bird.id, {});
    await expect(putBirdBack(contextOf(stranger), bird.id)).rejects.toMatchObject({ code: 'forbidden' });
    await expect(takeOutOfFreezer(contextOf(stranger), bird.id)).rejects.toMatchObject({ code: 'forbidden' });
    await handBirdOver(contextOf(preparator), bird.id, { toPersonId: stranger.personId ?? '' });
    const out = await takeOutOfFreezer(contextOf(stranger), bird.id);
    expect(out).toMatchObject({ state: 'thawing', claimedBy: { name: stranger.name } });
    await expect(putBirdBack(contextOf(stranger), bird.id)).rejects.toMatchObject({ code: 'conflict' });
  });
});

describe('queueing', () => {
  it('needs an accession, then orders by priority and explains it', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'preparator');
    const bird = await makeBird(db(), own, { birdState: 'in-freezer' });
    const request = { birdIds: [bird.id], style: 'whole-skeleton', sizeClass: 'small' } as const;
    await expect(enqueueBirds(contextOf(actor), { ...request, birdIds: [bird.id] })).rejects.toMatchObject({
      code: 'not-valid',
    });
    const accession = await db().accession.create({
      data: {
        collectionId: own,
        number: 'A1',
        source: 'test',
        receivedOn: new Date(),
        createdById: actor.personId ?? '',
      },
    });
    await db().salvageRecord.update({ where: { id: bird.salvageId }, data: { accessionId: accession.id } });
    await enqueueBirds(contextOf(actor), { ...request, birdIds: [bird.id] });
    const { rows } = await listQueue(actor, queueListQuery.parse({}));
    expect(rows.map((row) => row.number)).toEqual([bird.number]);
    expect(rows[0]?.priority).toBeGreaterThan(0);
    const explained = rows[0]?.parts.reduce((sum, part) => sum + part.contribution, 0);
    expect(explained).toBeCloseTo(rows[0]?.priority ?? Number.NaN, 6);
  });
});
