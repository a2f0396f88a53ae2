import 'server-only';
import { announce } from '@/lib/notices/public';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { conflict, notFound, staleVersion } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { type DayPlanAnswer, type PlanResult, type Refusal, storedOutcome } from './plan-wire';
import { planSubject, showPlan } from './plans';
import { holdsOf } from './priorities';
import { findBirds, findCollection, findNames, type QueueBird, updateBird } from './repo/birds';
import { findPlan, findPlanInForce, updatePlan } from './repo/plans';
import { moveCarcass } from './rules/carcass';
import { claimExpiresAt } from './rules/expiry';
import type { CarcassState } from './schema';
import { readQueueSettings } from './settings';

type Planned = Extract<PlanResult, { birds: unknown }>['birds'][number];

/**
 * Puts a proposed plan in force: each planned bird becomes its person's claim. A bird that somebody else took, or that
 * came under a hold since, is named with the reason; the others are given all the same. The day's earlier plan is set
 * aside, its claims stay.
 * @throws AppError stale-version; conflict when the plan is not proposed any more.
 */
export async function putPlanInForce(
  context: CommandContext,
  id: string,
  version: number,
): Promise<DayPlanAnswer> {
  const { actor } = context;
  authorise(actor, 'plan.make');
  await withTx(context, async (work) => {
    const plan = await findPlan(work.db, actor.collectionId, id);
    if (plan === null) throw notFound(say('This day plan'));
    if (plan.version !== version) throw staleVersion(say('This day plan'), { version: plan.version });
    const outcome = storedOutcome.parse(plan.outcome);
    if (plan.state !== 'proposed' || outcome.result === null || !('birds' in outcome.result))
      throw conflict(say('Only a proposed plan can be put in force.'));
    const planOn = dayOf(plan.planOn);
    const earlier = await findPlanInForce(work.db, actor.collectionId, plan.planOn);
    if (earlier !== null) {
      await updatePlan(work.db, { id: earlier.id, states: ['in-force'] }, { state: 'set-aside' });
      work.audit(queueEvents.make('queue.plan-set-aside', planSubject(earlier), { planOn }));
    }
    const refused = await giveBirds(work, planOn, outcome.result.birds);
    const changed = await updatePlan(
      work.db,
      { id, states: ['proposed'], version },
      { state: 'in-force', outcome: { ...outcome, refused } },
    );
    if (changed === 0) throw conflict(say('Somebody else changed this plan a moment ago. Reload and look.'));
    const given = outcome.result.birds.length - refused.length;
    work.audit(
      queueEvents.make('queue.plan-put-in-force', planSubject(plan), {
        planOn,
        given,
        refused: refused.map(({ reason }) => reason),
      }),
    );
  });
  return showPlan(actor, id);
}

async function giveBirds(work: Work, planOn: string, planned: readonly Planned[]): Promise<Refusal[]> {
  const { collectionId } = work.actor;
  // In the order of their ids, so that two plans put in force at once wait for each other and do not deadlock.
  const birds = await findBirds(
    work.db,
    collectionId,
    planned.map(({ birdId }) => birdId),
  );
  const names = await findNames([
    ...planned.map(({ personId }) => personId),
    ...birds.map((b) => b.claimedById),
  ]);
  const claims = readQueueSettings((await findCollection(work.db, collectionId)).settings).claims;
  const until = claimExpiresAt(work.now, claims);
  const refused: Refusal[] = [];
  for (const line of planned.filter(({ birdId }) => !birds.some(({ id }) => id === birdId)))
    refused.push({
      birdId: line.birdId,
      personId: line.personId,
      reason: say('This bird is no longer here.'),
    });
  for (const bird of birds) {
    const line = planned.find(({ birdId }) => birdId === bird.id);
    if (line === undefined) continue;
    const reason = await giveBird(work, bird, line, { planOn, until, names });
    if (reason !== null) refused.push({ birdId: bird.id, personId: line.personId, reason });
  }
  return refused;
}

/** Gives one bird to its planned person; why not, or null when it is theirs now. */
async function giveBird(
  work: Work,
  bird: QueueBird,
  line: Planned,
  day: { planOn: string; until: Date; names: ReadonlyMap<string, string> },
): Promise<string | null> {
  if (bird.claimedById === line.personId) return null;
  const holder = bird.claimedById === null ? null : (day.names.get(bird.claimedById) ?? say('somebody else'));
  if (holder !== null)
    return say('{number} was taken by {holder} meanwhile.', { number: bird.number, holder });
  const move = moveCarcass(bird.state as CarcassState, 'take', holdsOf(bird));
  if (!move.ok) return `${bird.number}: ${move.reason}`;
  const changed = await updateBird(
    work.db,
    { id: bird.id, state: 'queued', version: bird.version },
    {
      state: move.to,
      claimedById: line.personId,
      claimedAt: work.now,
      claimExpiresAt: day.until,
      claimNoticedAt: null,
      coWorkerId: null,
    },
  );
  if (changed === 0)
    return say('{number} was changed by somebody else at the same moment.', { number: bird.number });
  work.audit(
    queueEvents.make(
      'queue.taken',
      {
        subjectType: 'bird',
        subjectId: bird.id,
        birdId: bird.id,
        reason: `Day plan of ${day.planOn}`,
      },
      {
        bird: bird.number,
        by: day.names.get(line.personId) ?? say('somebody who left'),
        supervisor: line.supervisorId,
        until: day.until.toISOString(),
      },
    ),
  );
  announce(work, {
    subjectType: 'bird',
    subjectId: bird.id,
    kind: 'queue.assigned',
    facts: { bird: bird.number, by: work.actor.name, how: 'day-plan', day: day.planOn },
    to: { people: [line.personId] },
  });
  return null;
}
