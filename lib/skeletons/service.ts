import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { type FieldProblem, notValid } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say, sayCode } from '@/lib/platform/words/say';
import {
  beginStep,
  instantOf,
  judgePestFreeze,
  listProcess,
  type Process,
  type ProcessFacts,
  shelve,
  shelvingProblem,
  takeChosen,
} from '@/lib/storage/public';
import type { MovedMaterials } from '@/lib/storage/schema';
import { skeletonEvents } from './events';
import { findBoxStates, findSettings } from './repo';
import { type CleaningProcedure, SKELETON_STATES, type SkeletonState } from './rules/cleaning';
import { type CleaningTarget, entryStep, findTarget } from './rules/progress';
import { canMoveSkeleton } from './rules/transitions';
import type {
  AdvanceSkeletonsRequest,
  ChooseProcedureRequest,
  SkeletonGroups,
  SkeletonListQuery,
} from './schema';
import { readSkeletonSettings } from './settings';

/** Days that a skeleton may lie before somebody chooses how it is cleaned: our own start value. */
const BEFORE_A_PROCEDURE = { min: 0, max: 2 };

export const findProcedures = async (tx: Tx, collectionId: string): Promise<CleaningProcedure[]> =>
  readSkeletonSettings(await findSettings(tx, collectionId)).procedures;

export const processOf = (procedures: readonly CleaningProcedure[]): Process => ({
  kinds: ['skeleton'],
  states: SKELETON_STATES,
  expected: ({ step, procedureId }) => {
    if (step === null) return BEFORE_A_PROCEDURE;
    const procedure = procedures.find(({ id }) => id === procedureId);
    return procedure?.steps.find(({ id }) => id === step)?.expectedDays ?? null;
  },
});

/** Skeletons by state, what is overdue first, with the questions that their counts left open. */
export async function listSkeletons(actor: Actor, query: SkeletonListQuery): Promise<SkeletonGroups> {
  authorise(actor, 'materials.see');
  const procedures = await findProcedures(db(), actor.collectionId);
  const list = await listProcess(actor, processOf(procedures), query);
  const boxes = await findBoxStates(
    db(),
    list.groups.flatMap(({ rows }) => rows.map(({ id }) => id)),
  );
  return {
    today: list.today,
    groups: list.groups.map((group) => ({
      ...group,
      rows: group.rows.map((row) => ({ ...row, openQuestions: boxes.get(row.id)?.open ?? 0 })),
    })),
    procedures,
  };
}

const refuse = (problems: readonly (FieldProblem | null)[]): void => {
  const found = problems.flatMap((problem) => problem ?? []);
  if (found.length > 0) throw notValid(say('Nothing was changed.'), found);
};

/** A rule's refusal of one skeleton, where it answered with a sentence. */
const refusal = (answer: unknown): FieldProblem | null =>
  typeof answer === 'string' ? { path: 'chosen', message: answer } : null;

/**
 * Sets skeletons on a cleaning procedure, each at the first step that is not behind the state it is in.
 * @throws AppError not-valid naming each that cannot take it up; conflict where somebody else was quicker.
 */
export async function chooseProcedure(
  context: CommandContext,
  request: ChooseProcedureRequest,
): Promise<MovedMaterials> {
  authorise(context.actor, 'materials.advance');
  return withTx(context, async (work) => {
    const procedures = await findProcedures(work.db, work.actor.collectionId);
    const procedure = procedures.find(({ id }) => id === request.procedureId);
    if (procedure === undefined) {
      throw notValid(say('This procedure is not among the lab’s.'), [
        { path: 'procedureId', message: say('Choose another procedure.') },
      ]);
    }
    const skeletons = await takeChosen(work, processOf(procedures), request.chosen);
    const when = await instantOf(work, request.doneOn, skeletons);
    const entries = skeletons.map((skeleton) => entryFor(procedure, skeleton));
    refuse(entries.map(refusal));
    const moved: MovedMaterials['moved'] = [];
    for (const [index, skeleton] of skeletons.entries()) {
      const step = entries[index];
      if (step === undefined || typeof step === 'string') continue;
      const next = { step: step.id, name: step.name, state: step.state, procedureId: procedure.id };
      await beginStep(work, skeleton, { ...next, expected: step.expectedDays }, when, request);
      work.audit(
        skeletonEvents.make('skeletons.procedure-chosen', subjectOf(skeleton, request.note), {
          material: skeleton.label,
          procedure: procedure.name,
          step: step.name,
          doneAt: when.at.toISOString(),
        }),
      );
      moved.push({ id: skeleton.id, label: skeleton.label, state: step.state, step: step.name });
    }
    return { moved };
  });
}

function entryFor(procedure: CleaningProcedure, skeleton: ProcessFacts) {
  const state = skeleton.state as SkeletonState;
  if (skeleton.latest?.procedureId === procedure.id)
    return say('{label} follows {name} already.', { label: skeleton.label, name: procedure.name });
  const step = entryStep(procedure, state);
  const reachable = step !== null && (step.state === state || canMoveSkeleton(state, step.state));
  return reachable && step !== null
    ? step
    : say('{label} is {replace}: {name} has no step for it.', {
        label: skeleton.label,
        replace: state.replace('-', ' '),
        name: procedure.name,
      });
}

const subjectOf = (skeleton: ProcessFacts, reason: string | null | undefined) => ({
  subjectType: 'material',
  subjectId: skeleton.id,
  birdId: skeleton.birdId,
  reason,
});

/**
 * Moves skeletons on together: each to its own next step, all to one step, or to the shelf; all of them or none.
 * @throws AppError not-valid naming each that cannot go there; conflict where somebody else was quicker.
 */
export async function advanceSkeletons(
  context: CommandContext,
  request: AdvanceSkeletonsRequest,
): Promise<MovedMaterials> {
  authorise(context.actor, 'materials.advance');
  return withTx(context, async (work) => {
    const procedures = await findProcedures(work.db, work.actor.collectionId);
    const skeletons = await takeChosen(work, processOf(procedures), request.chosen);
    const when = await instantOf(work, request.doneOn, skeletons);
    const targets = skeletons.map((skeleton) => targetFor(procedures, skeleton, request.to));
    refuse(targets.map(refusal));
    const shelving = skeletons.filter((_, index) => isShelf(targets[index]));
    refuse(await shelvingProblems(work, shelving, request, when.at));
    const moved: MovedMaterials['moved'] = [];
    for (const [index, skeleton] of skeletons.entries()) {
      const target = targets[index];
      if (target === undefined || typeof target === 'string') continue;
      moved.push(await moveOn(work, skeleton, target, when, request));
    }
    return { moved };
  });
}

const isShelf = (target: CleaningTarget | string | undefined): boolean =>
  typeof target === 'object' && target.kind === 'shelf';

function targetFor(
  procedures: readonly CleaningProcedure[],
  skeleton: ProcessFacts,
  to: string,
): CleaningTarget | string {
  const state = skeleton.state as SkeletonState;
  const procedure = procedures.find(({ id }) => id === skeleton.latest?.procedureId);
  if (procedure === undefined) return say('{label}: choose a procedure first.', { label: skeleton.label });
  const target = findTarget(procedure, { state, stepId: skeleton.latest?.step ?? null }, to);
  if (target !== null) return target;
  if (to === 'next')
    return say('{label} is at {name}: nothing follows there.', {
      label: skeleton.label,
      name: skeleton.latest?.name ?? sayCode(state),
    });
  const where =
    procedure.steps.find(({ id }) => id === to)?.name ?? (to === 'shelf' ? say('the shelf') : say('there'));
  return say('{label} is at {name} of {name2} and cannot go to {where} from there.', {
    label: skeleton.label,
    name: skeleton.latest?.name ?? sayCode(state),
    name2: procedure.name,
    where,
  });
}

async function shelvingProblems(
  work: Work,
  skeletons: readonly ProcessFacts[],
  { place, note }: AdvanceSkeletonsRequest,
  at: Date,
): Promise<(FieldProblem | null)[]> {
  const boxes = await findBoxStates(
    work.db,
    skeletons.map(({ id }) => id),
  );
  const problems: (FieldProblem | null)[] = [];
  for (const skeleton of skeletons) {
    const box = boxes.get(skeleton.id) ?? { counted: false, open: 0 };
    const remarks = [
      ...(box.counted ? [] : [say('Its bones were not counted against the bone book.')]),
      ...(box.open === 0
        ? []
        : [
            box.open === 1
              ? say('A question of its count is open.')
              : say('{open} questions of its count are open.', { open: box.open }),
          ]),
    ];
    problems.push(
      shelvingProblem({
        label: skeleton.label,
        hasPlace: skeleton.hasPlace || Boolean(place),
        pestFreeze: await judgePestFreeze(work, skeleton.id, at),
        remarks,
        note: note ?? null,
      }),
    );
  }
  return problems;
}

async function moveOn(
  work: Work,
  skeleton: ProcessFacts,
  target: CleaningTarget,
  when: { at: Date; timeZone: string },
  request: AdvanceSkeletonsRequest,
): Promise<MovedMaterials['moved'][number]> {
  const { id, label, latest } = skeleton;
  const from = latest?.name ?? skeleton.state;
  const doneAt = when.at.toISOString();
  const subject = subjectOf(skeleton, request.note);
  if (target.kind === 'shelf') {
    await shelve(work, skeleton, when, request);
    work.audit(skeletonEvents.make('skeletons.shelved', subject, { material: label, from, doneAt }));
    return { id, label, state: 'shelved', step: say('Shelved') };
  }
  const { step } = target;
  const next = {
    step: step.id,
    name: step.name,
    state: step.state,
    procedureId: latest?.procedureId ?? null,
  };
  await beginStep(work, skeleton, { ...next, expected: step.expectedDays }, when, request);
  work.audit(
    skeletonEvents.make('skeletons.step-begun', subject, {
      material: label,
      from,
      to: step.name,
      state: step.state,
      method: request.method ?? null,
      temperatureC: request.temperatureC ?? null,
      doneAt,
    }),
  );
  return { id, label, state: step.state, step: step.name };
}
