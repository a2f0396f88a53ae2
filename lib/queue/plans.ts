import 'server-only';
import { z } from 'zod';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { conflict, notFound, staleVersion } from '@/lib/platform/errors';
import { cutPage, readCursor, writeCursor } from '@/lib/platform/paging';
import { type Work, withTx } from '@/lib/platform/tx';
import { say, sayCode } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { sayPlan } from './plan-answer';
import {
  type DayPlanAnswer,
  type PlanChange,
  type PlanRequest,
  type PlanState,
  type PlanSummary,
  planInput,
  storedOutcome,
} from './plan-wire';
import { findCollection } from './repo/birds';
import { createPlan, findPlan, findPlans, type PlanRow, updatePlan } from './repo/plans';
import { readQueueSettings } from './settings';

/** The background task that solves a plan; see jobs.ts. */
export const SOLVE_TASK = 'queue.solve-plan';

/** States from which a plan may be asked for again, with other people, hours or hand changes. */
export const ASKABLE: readonly PlanState[] = ['proposed', 'no-plan', 'stopped', 'failed'];
export const RUNNING: readonly PlanState[] = ['asked', 'working'];

export const planSubject = (plan: { id: string }) => ({ subjectType: 'day-plan', subjectId: plan.id });

async function load(work: Work, id: string): Promise<PlanRow> {
  const plan = await findPlan(work.db, work.actor.collectionId, id);
  if (plan === null) throw notFound(say('This day plan'));
  return plan;
}

export async function showPlan(actor: Actor, id: string): Promise<DayPlanAnswer> {
  authorise(actor, 'plan.see');
  const plan = await findPlan(db(), actor.collectionId, id);
  if (plan === null) throw notFound(say('This day plan'));
  return sayPlan(actor, plan);
}

/** Day plans, the latest day first. */
export async function listPlans(
  actor: Actor,
  query: { size: number; after?: string },
): Promise<{ rows: PlanSummary[]; next: string | null }> {
  authorise(actor, 'plan.see');
  const last =
    query.after === undefined ? undefined : readCursor(query.after, z.tuple([z.iso.date(), z.uuid()]));
  const before = last && { planOn: dateColumn(last[0]), id: last[1] };
  const found = await findPlans(actor.collectionId, { size: query.size, before });
  const { rows, next } = cutPage(found, query.size, (plan) => writeCursor([dayOf(plan.planOn), plan.id]));
  return { rows: rows.map(summarise), next };
}

function summarise(plan: PlanRow): PlanSummary {
  const { result } = storedOutcome.parse(plan.outcome);
  const solved = result !== null && 'birds' in result ? result : null;
  return {
    id: plan.id,
    planOn: dayOf(plan.planOn),
    state: plan.state as PlanState,
    people: planInput.parse(plan.input).people.length,
    birds: solved?.birds.length ?? 0,
    quality: solved?.quality ?? null,
  };
}

/** What a new plan starts from: the lab's own day and its bench places. */
export async function readPlanDefaults(actor: Actor): Promise<{ today: string; benchPlaces: number }> {
  authorise(actor, 'plan.see');
  const collection = await findCollection(db(), actor.collectionId);
  return {
    today: dayIn(collection.timeZone, now()),
    benchPlaces: readQueueSettings(collection.settings).plan.benchPlaces,
  };
}

/** Asks for a plan of a day. It is solved by a background job, off the web server; the answer says it was asked for. */
export async function askPlan(context: CommandContext, request: PlanRequest): Promise<DayPlanAnswer> {
  const { actor } = context;
  authorise(actor, 'plan.make');
  const createdById = personOf(actor);
  const { planOn, ...input } = request;
  const plan = await withTx(context, async (work) => {
    const made = await createPlan(work.db, {
      collectionId: actor.collectionId,
      planOn: dateColumn(planOn),
      input,
      createdById,
    });
    sendToSolver(work, made.id, planOn, input);
    return made;
  });
  return sayPlan(actor, plan);
}

function sendToSolver(
  work: Work,
  planId: string,
  planOn: string,
  input: { people: unknown[]; fixed: unknown[]; barred: unknown[] },
): void {
  work.enqueue(SOLVE_TASK, { planId, collectionId: work.actor.collectionId });
  const handChanges = input.fixed.length + input.barred.length;
  work.audit(
    queueEvents.make(
      'queue.plan-asked',
      { subjectType: 'day-plan', subjectId: planId },
      { planOn, people: input.people.length, handChanges },
    ),
  );
}

/** Plans the day again around other people, hours or hand changes. @throws AppError stale-version, conflict. */
export async function changePlan(
  context: CommandContext,
  id: string,
  { version, ...input }: PlanChange,
): Promise<DayPlanAnswer> {
  const { actor } = context;
  authorise(actor, 'plan.make');
  await withTx(context, async (work) => {
    const plan = await load(work, id);
    if (plan.version !== version) throw staleVersion(say('This day plan'), { version: plan.version });
    if (!ASKABLE.includes(plan.state as PlanState))
      throw conflict(
        plan.state === 'in-force'
          ? say('This plan is in force. Hand birds over on the queue page, or make a new plan for the day.')
          : say('This plan is being worked on or was set aside.'),
      );
    const changed = await updatePlan(
      work.db,
      { id, states: ASKABLE, version },
      { state: 'asked', input, outcome: {}, startedAt: null, finishedAt: null },
    );
    if (changed === 0) throw conflict(say('Somebody else changed this plan a moment ago. Reload and look.'));
    sendToSolver(work, id, dayOf(plan.planOn), input);
  });
  return showPlan(actor, id);
}

/** Stops a plan that is being worked on. What the solver finds after that is thrown away. */
export async function stopPlan(context: CommandContext, id: string): Promise<DayPlanAnswer> {
  return endPlan(context, id, { from: RUNNING, to: 'stopped', event: 'queue.plan-stopped' });
}

/** Sets a plan aside. Birds that it gave to people stay with them. */
export async function setPlanAside(context: CommandContext, id: string): Promise<DayPlanAnswer> {
  const from: PlanState[] = [...ASKABLE, 'in-force'];
  return endPlan(context, id, { from, to: 'set-aside', event: 'queue.plan-set-aside' });
}

async function endPlan(
  context: CommandContext,
  id: string,
  step: {
    from: readonly PlanState[];
    to: PlanState;
    event: 'queue.plan-stopped' | 'queue.plan-set-aside';
  },
): Promise<DayPlanAnswer> {
  const { actor } = context;
  authorise(actor, 'plan.make');
  await withTx(context, async (work) => {
    const plan = await load(work, id);
    const patch = { state: step.to, finishedAt: plan.finishedAt ?? work.now };
    if ((await updatePlan(work.db, { id, states: step.from }, patch)) === 0)
      throw conflict(say('This plan is {state} by now. Reload and look.', { state: sayCode(plan.state) }));
    work.audit(queueEvents.make(step.event, planSubject(plan), { planOn: dayOf(plan.planOn) }));
  });
  return showPlan(actor, id);
}
