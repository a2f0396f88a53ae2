import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import {
  type DayPlanAnswer,
  type PlanLine,
  type PlanState,
  planInput,
  type StoredOutcome,
  storedOutcome,
} from './plan-wire';
import { findBirds, findCollection, findNames, type QueueBird } from './repo/birds';
import type { PlanRow } from './repo/plans';
import { rowMaker } from './rows';
import { buildPullList, pullRounds } from './rules/pull-list';
import { readQueueSettings } from './settings';

/** Birds to be taken out within this time of each other are fetched in one walk. */
const ROUND_MINUTES = 30;

const planned = ({ result }: StoredOutcome) => (result !== null && 'birds' in result ? result.birds : []);

/** The names of the storage tree on the way to a bird, its position last. */
function pathOf(bird: QueueBird): string[] {
  const placement = bird.materials[0]?.placement ?? null;
  if (placement === null) return [];
  const path = placement.unit.path.split(' › ');
  return placement.position === null ? path : [...path, placement.position];
}

/** Why a planned bird is not with its person now that the plan is in force; null when it is, or came further. */
function strayed(outcome: StoredOutcome, line: { birdId: string; personId: string }, holder: string | null) {
  const refusal = outcome.refused.find((one) => one.birdId === line.birdId);
  if (refusal !== undefined && holder !== line.personId) return refusal.reason;
  return null;
}

/** A plan as its page, its sheets and its board show it: the planned birds as they are now. */
export async function sayPlan(actor: Actor, plan: PlanRow): Promise<DayPlanAnswer> {
  const outcome = storedOutcome.parse(plan.outcome);
  const input = planInput.parse(plan.input);
  const given = planned(outcome);
  const [birds, names, collection] = await Promise.all([
    findBirds(
      db(),
      actor.collectionId,
      given.map(({ birdId }) => birdId),
    ),
    findNames([plan.createdById, ...input.people.map(({ personId }) => personId)]),
    findCollection(db(), actor.collectionId),
  ]);
  const toRow = await rowMaker(actor, birds);
  const byId = new Map(birds.map((bird) => [bird.id, bird]));
  const nameOf = (id: string) => names.get(id) ?? say('somebody who left');
  const lines = given.flatMap((line): PlanLine[] => {
    const bird = byId.get(line.birdId);
    if (bird === undefined) return [];
    const byHand = input.fixed.some(
      (change) => change.birdId === line.birdId && change.personId === line.personId,
    );
    return [{ ...line, bird: toRow(bird), byHand, refused: strayed(outcome, line, bird.claimedById) }];
  });
  const pull = lines
    .filter((line) => line.refused === null)
    .flatMap((line) => {
      const bird = byId.get(line.birdId);
      if (bird === undefined) return [];
      return {
        birdId: bird.id,
        label: bird.number,
        sizeClass: line.bird.sizeClass,
        path: pathOf(bird),
        isThawed: bird.thawStartedAt !== null || bird.frozenAt === null,
        startAt: line.startAt,
        personName: nameOf(line.personId),
      };
    });
  const state = plan.state as PlanState;
  const makes = may(actor, 'plan.make');
  const askable = ['proposed', 'no-plan', 'stopped', 'failed'].includes(state);
  return {
    id: plan.id,
    planOn: dayOf(plan.planOn),
    state,
    version: plan.version,
    input,
    startedAt: plan.startedAt?.toISOString() ?? null,
    finishedAt: plan.finishedAt?.toISOString() ?? null,
    createdBy: nameOf(plan.createdById),
    people: input.people.map((guest) => ({ ...guest, name: nameOf(guest.personId) })),
    outcome,
    lines,
    pull: pullRounds(buildPullList(pull, readQueueSettings(collection.settings).sizes), ROUND_MINUTES),
    abilities: {
      change: makes && askable,
      putInForce: makes && state === 'proposed',
      stop: makes && (state === 'asked' || state === 'working'),
      setAside: makes && (askable || state === 'in-force'),
    },
  };
}
