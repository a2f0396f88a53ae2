import 'server-only';
import { announce } from '@/lib/notices/public';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, forbidden, notFound, staleVersion } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { holdsOf } from './priorities';
import {
  type ClaimBird,
  countOpenClaims,
  findBird,
  findColleague,
  findCollection,
  findNames,
  findSkills,
  findState,
  lockClaimBird,
  type QueueBird,
  updateBird,
} from './repo/birds';
import { isBenchStaff, sizeOf, styleOf, toSkill } from './rows';
import { moveCarcass } from './rules/carcass';
import { type ClaimFacts, mayReceiveBird, mayTakeBird } from './rules/claims';
import { claimExpiresAt } from './rules/expiry';
import type { CarcassState } from './schema';
import { showQueueBird } from './service';
import { readQueueSettings } from './settings';
import type { QueueRow } from './wire';

const claimFacts = async (
  work: Work,
  bird: ClaimBird,
  personId: string,
  supervisorId?: string,
): Promise<ClaimFacts> => {
  const { collectionId } = work.actor;
  const openClaims = await countOpenClaims(work.db, collectionId, personId);
  const skills = await findSkills(work.db, collectionId, personId);
  const named = supervisorId === undefined ? null : await findColleague(work.db, collectionId, supervisorId);
  return {
    person: { personId, skills: skills.map(toSkill), openClaims },
    bird: {
      state: bird.state as CarcassState,
      holds: holdsOf(bird),
      style: styleOf(bird),
      sizeClass: sizeOf(bird),
    },
    supervisor:
      named === null
        ? null
        : {
            personId: named.id,
            supervises: named.memberships.some(({ role }) => role === 'preparator' || role === 'curator'),
            skills: named.skills.map(toSkill),
          },
  };
};

async function load(work: Work, id: string): Promise<QueueBird> {
  const bird = await findBird(work.db, work.actor.collectionId, id);
  if (bird === null) throw notFound(say('This bird'));
  return bird;
}

/** Tells a person that a bird is theirs to work on. */
function announceAssigned(
  work: Work,
  bird: QueueBird,
  personId: string,
  how: 'handed-over' | 'co-worker',
): void {
  const facts = { bird: bird.number, by: work.actor.name, how, day: null };
  const about = { subjectType: 'bird', subjectId: bird.id } as const;
  announce(work, { ...about, kind: 'queue.assigned', facts, to: { people: [personId] } });
}

const subject = (bird: ClaimBird, reason?: string) => ({
  subjectType: 'bird',
  subjectId: bird.id,
  birdId: bird.id,
  reason,
});

/**
 * Takes a bird from the queue for the acting person. Of many who press at once exactly one gets it: the change is made
 * only where the bird is still queued, and nobody waits for another's bird.
 * @throws AppError conflict when somebody was quicker or a hold stands; forbidden when the skills do not allow it.
 */
export async function takeBird(
  context: CommandContext,
  id: string,
  request: { supervisorId?: string },
): Promise<QueueRow> {
  const { actor } = context;
  authorise(actor, 'queue.claim');
  const personId = personOf(actor);
  // Most who come too late hear so by one read, without a transaction.
  const state = await findState(actor.collectionId, id);
  if (state === null) throw notFound(say('This bird'));
  const seen = moveCarcass(state as CarcassState, 'take', []);
  if (!seen.ok) throw conflict(seen.reason);
  await withTx(context, async (work) => {
    const bird = await lockClaimBird(work.db, actor.collectionId, id);
    if (bird === null) throw conflict(say('Somebody else took this bird a moment ago. Choose another.'));
    const move = moveCarcass(bird.state as CarcassState, 'take', holdsOf(bird));
    if (!move.ok) throw conflict(move.reason);
    const settings = readQueueSettings(bird.settings).claims;
    if (!isBenchStaff(actor)) {
      const verdict = mayTakeBird(await claimFacts(work, bird, personId, request.supervisorId), settings);
      if (!verdict.ok) throw forbidden(verdict.reason);
    }
    const until = claimExpiresAt(work.now, settings);
    await updateBird(
      work.db,
      { id, state: 'queued' },
      {
        state: 'claimed',
        claimedById: personId,
        claimedAt: work.now,
        claimExpiresAt: until,
        claimNoticedAt: null,
        coWorkerId: null,
      },
    );
    work.audit(
      queueEvents.make('queue.taken', subject(bird), {
        bird: bird.number,
        by: actor.name,
        supervisor: request.supervisorId ?? null,
        until: until.toISOString(),
      }),
    );
  });
  return showQueueBird(actor, id);
}

/** Gives a claimed bird back to the queue. */
export async function putBirdBack(context: CommandContext, id: string, reason?: string): Promise<QueueRow> {
  const { actor } = context;
  await withTx(context, async (work) => {
    const bird = await load(work, id);
    authorise(actor, 'queue.hand-over', { ownerIds: [bird.claimedById] });
    const move = moveCarcass(bird.state as CarcassState, 'put-back', holdsOf(bird));
    if (!move.ok) throw conflict(move.reason);
    const changed = await updateBird(
      work.db,
      { id, state: bird.state },
      {
        state: move.to,
        claimedById: null,
        claimedAt: null,
        claimExpiresAt: null,
        claimNoticedAt: null,
        coWorkerId: null,
      },
    );
    if (changed === 0) throw conflict(say('Somebody else changed this claim a moment ago.'));
    work.audit(
      queueEvents.make('queue.put-back', subject(bird, reason), { bird: bird.number, from: actor.name }),
    );
  });
  return showQueueBird(actor, id);
}

/** Passes a claimed bird to a colleague who may prepare it. */
export async function handBirdOver(
  context: CommandContext,
  id: string,
  { toPersonId, reason }: { toPersonId: string; reason?: string },
): Promise<QueueRow> {
  const { actor } = context;
  await withTx(context, async (work) => {
    const bird = await load(work, id);
    authorise(actor, 'queue.hand-over', { ownerIds: [bird.claimedById] });
    const receiver = await findColleague(work.db, actor.collectionId, toPersonId);
    if (receiver === null) throw notFound(say('This colleague'));
    const settings = readQueueSettings((await findCollection(work.db, actor.collectionId)).settings).claims;
    const staff = receiver.memberships.some(({ role }) => role === 'preparator' || role === 'curator');
    const verdict = staff
      ? moveCarcass(bird.state as CarcassState, 'hand-over', holdsOf(bird))
      : mayReceiveBird(await claimFacts(work, bird, toPersonId, personOf(actor)), settings);
    if (!verdict.ok) throw conflict(verdict.reason.replace(/^You have/, `${receiver.name} has`));
    const changed = await updateBird(
      work.db,
      { id, state: bird.state, claimedById: bird.claimedById ?? undefined },
      {
        claimedById: toPersonId,
        claimedAt: work.now,
        claimExpiresAt: claimExpiresAt(work.now, settings),
        claimNoticedAt: null,
        coWorkerId: null,
      },
    );
    if (changed === 0) throw conflict(say('Somebody else changed this claim a moment ago.'));
    work.audit(
      queueEvents.make('queue.handed-over', subject(bird, reason), {
        bird: bird.number,
        from: actor.name,
        to: receiver.name,
      }),
    );
    announceAssigned(work, bird, toPersonId, 'handed-over');
  });
  return showQueueBird(actor, id);
}

const SHARED_STATES: readonly string[] = ['claimed', 'thawing', 'on-the-bench'];

/** Names who works on a claimed bird beside its claimant, or nobody (null). Both may then write on its record. */
export async function nameCoWorker(
  context: CommandContext,
  id: string,
  { version, withPersonId }: { version: number; withPersonId: string | null },
): Promise<QueueRow> {
  const { actor } = context;
  await withTx(context, async (work) => {
    const bird = await load(work, id);
    authorise(actor, 'queue.hand-over', { ownerIds: [bird.claimedById] });
    if (!SHARED_STATES.includes(bird.state))
      throw conflict(say('Nobody has taken this bird, or it is done.'));
    if (withPersonId === bird.claimedById) throw conflict(say('That is the person who has the bird.'));
    const colleague =
      withPersonId === null ? null : await findColleague(work.db, actor.collectionId, withPersonId);
    if (withPersonId !== null && colleague === null) throw notFound(say('This colleague'));
    const names = await findNames([bird.claimedById]);
    const changed = await updateBird(
      work.db,
      { id, state: bird.state, version },
      { coWorkerId: withPersonId },
    );
    if (changed === 0) throw staleVersion(say('This bird'), { version: bird.version });
    work.audit(
      queueEvents.make('queue.co-worker-named', subject(bird), {
        bird: bird.number,
        claimant: names.get(bird.claimedById ?? '') ?? null,
        coWorker: colleague?.name ?? null,
      }),
    );
    if (withPersonId !== null) announceAssigned(work, bird, withPersonId, 'co-worker');
  });
  return showQueueBird(actor, id);
}
