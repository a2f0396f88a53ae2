import 'server-only';
import { announce } from '@/lib/notices/public';
import { systemActor } from '@/lib/platform/actor';
import { takeTurns, type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { findCollection, findNames, findWaitingClaims, updateBird } from './repo/birds';
import { type ClaimStep, dueClaimSteps } from './rules/expiry';
import type { CarcassState } from './schema';
import { readQueueSettings } from './settings';

type Claim = Awaited<ReturnType<typeof findWaitingClaims>>[number];

/** Tells people of claims that are about to end, and returns birds whose claim has ended to the queue. */
export async function expireClaims(collectionId: string): Promise<{ told: number; ranOut: number }> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    await takeTurns(work.db, `claims ${collectionId}`);
    const settings = readQueueSettings((await findCollection(work.db, collectionId)).settings).claims;
    const claims = await findWaitingClaims(work.db, collectionId);
    const names = await findNames(claims.map(({ claimedById }) => claimedById));
    const open = claims.flatMap((claim) =>
      claim.claimExpiresAt === null
        ? []
        : {
            birdId: claim.id,
            state: claim.state as CarcassState,
            expiresAt: claim.claimExpiresAt,
            noticedAt: claim.claimNoticedAt,
          },
    );
    const done = { told: 0, ranOut: 0 };
    for (const step of dueClaimSteps(open, work.now, settings)) {
      const claim = claims.find(({ id }) => id === step.birdId);
      if (claim === undefined || claim.claimedById === null) continue;
      const person = {
        id: claim.claimedById,
        name: names.get(claim.claimedById) ?? say('somebody who left'),
      };
      if (!(await takeStep(work, claim, step, person))) continue;
      if (step.step === 'tell') done.told += 1;
      else done.ranOut += 1;
    }
    return done;
  });
}

/** One step on one claim; false when its person or bird was quicker. */
async function takeStep(
  work: Work,
  claim: Claim,
  step: ClaimStep,
  person: { id: string; name: string },
): Promise<boolean> {
  const isTelling = step.step === 'tell';
  const changed = await updateBird(
    work.db,
    { id: claim.id, state: 'claimed', version: claim.version, claimedById: person.id },
    isTelling
      ? { claimNoticedAt: work.now }
      : {
          state: 'queued',
          claimedById: null,
          claimedAt: null,
          claimExpiresAt: null,
          claimNoticedAt: null,
          coWorkerId: null,
        },
  );
  if (changed === 0) return false;
  const subject = { subjectType: 'bird', subjectId: claim.id, birdId: claim.id };
  const payload = { bird: claim.number, person: person.name };
  work.audit(
    isTelling
      ? queueEvents.make('queue.claim-ending', subject, { ...payload, daysLeft: step.daysLeft })
      : queueEvents.make('queue.claim-ran-out', subject, payload),
  );
  announce(work, {
    subjectType: 'bird',
    subjectId: claim.id,
    ...(isTelling
      ? { kind: 'queue.claim-ending', facts: { bird: claim.number, daysLeft: step.daysLeft } }
      : { kind: 'queue.claim-ran-out', facts: { bird: claim.number } }),
    to: { people: [person.id] },
  });
  return true;
}
