import 'server-only';
import { systemActor } from '@/lib/platform/actor';
import { dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { log } from '@/lib/platform/log';
import { withTx } from '@/lib/platform/tx';
import { runInThread } from './compute';
import { queueEvents } from './events';
import type { PlanOutcome } from './plan';
import { type BuiltProblem, buildPlanProblem } from './plan-problem';
import { planInput } from './plan-wire';
import { planSubject, RUNNING } from './plans';
import { findPlan, type PlanRow, updatePlan } from './repo/plans';

/** How often a running solver asks whether its plan is still wanted. */
const WATCH_MS = 500;

/** Stopped in this very moment. Thrown, so that a transaction that locked the plan in vain is rolled back. */
class NoLongerWanted extends Error {}

/**
 * Solves a plan that was asked for, in a thread of its own, and keeps the answer as a proposal. Stopping the plan ends
 * the thread within half a second; an answer to a plan that was stopped or asked for anew is thrown away.
 */
export async function solvePlan(planId: string, collectionId: string): Promise<void> {
  const begun = await beginPlan(planId, collectionId).catch(unlessUnwanted);
  if (begun === null) return;
  try {
    const input = planInput.parse(begun.input);
    const built = await buildPlanProblem(db(), collectionId, dayOf(begun.planOn), input, now());
    const result = await whileWanted(begun, (signal) =>
      runInThread({ kind: 'plan', problem: built.problem, seconds: input.seconds }, signal),
    );
    await keepAnswer(begun, built, result);
  } catch (error) {
    if (error instanceof NoLongerWanted) return;
    log().error({ err: error, planId }, 'a day plan could not be solved');
    await failPlan(begun).catch(unlessUnwanted);
  }
}

function unlessUnwanted(error: unknown): null {
  if (error instanceof NoLongerWanted) return null;
  throw error;
}

async function beginPlan(planId: string, collectionId: string): Promise<PlanRow | null> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const plan = await findPlan(work.db, collectionId, planId);
    // Also 'working': then this is a second try, because the first worker ended in the middle.
    if (plan === null || !(RUNNING as readonly string[]).includes(plan.state)) return null;
    const { state, version, planOn } = plan;
    const changed = await updatePlan(
      work.db,
      { id: planId, states: [state], version },
      { state: 'working', startedAt: work.now, finishedAt: null },
    );
    if (changed === 0) throw new NoLongerWanted('The plan was stopped.');
    work.audit(queueEvents.make('queue.plan-begun', planSubject(plan), { planOn: dayOf(planOn) }));
    return { ...plan, state: 'working', version: version + 1 };
  });
}

async function whileWanted<T>(plan: PlanRow, task: (signal: AbortSignal) => Promise<T>): Promise<T> {
  const cancel = new AbortController();
  const watch = setInterval(() => {
    findPlan(db(), plan.collectionId, plan.id).then(
      (current) => {
        if (current?.version !== plan.version) cancel.abort(new NoLongerWanted('The plan was stopped.'));
      },
      // A hiccup of the connection stops nothing: the next look decides.
      (error: unknown) => log().warn({ err: error }, 'could not look whether a plan is still wanted'),
    );
  }, WATCH_MS);
  try {
    return await task(cancel.signal);
  } finally {
    clearInterval(watch);
  }
}

async function keepAnswer(plan: PlanRow, built: BuiltProblem, result: PlanOutcome): Promise<void> {
  const planned = 'birds' in result;
  await withTx({ actor: systemActor(plan.collectionId) }, async (work) => {
    const changed = await updatePlan(
      work.db,
      { id: plan.id, states: ['working'], version: plan.version },
      {
        state: planned ? 'proposed' : 'no-plan',
        outcome: { result, times: built.times, dropped: built.dropped },
        finishedAt: work.now,
      },
    );
    if (changed === 0) throw new NoLongerWanted('The plan was stopped.');
    work.audit(
      queueEvents.make('queue.plan-answered', planSubject(plan), {
        planOn: dayOf(plan.planOn),
        outcome: result.outcome,
        birds: planned ? result.birds.length : 0,
      }),
    );
  });
}

async function failPlan(plan: PlanRow): Promise<void> {
  await withTx({ actor: systemActor(plan.collectionId) }, async (work) => {
    const where = { id: plan.id, states: ['working'], version: plan.version };
    if ((await updatePlan(work.db, where, { state: 'failed', finishedAt: work.now })) === 0)
      throw new NoLongerWanted('The plan was stopped.');
    work.audit(queueEvents.make('queue.plan-failed', planSubject(plan), { planOn: dayOf(plan.planOn) }));
  });
}
