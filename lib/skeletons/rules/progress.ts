import { type CleaningProcedure, type CleaningStep, SKELETON_STATES, type SkeletonState } from './cleaning';
import { canMoveSkeleton } from './transitions';

/** Where a skeleton stands: its state, and the step of the procedure it is in; null before one was chosen. */
export interface CleaningPlace {
  state: SkeletonState;
  stepId: string | null;
}

/** Where it may go: a step of its procedure, or the shelf. */
export type CleaningTarget = { kind: 'step'; step: CleaningStep } | { kind: 'shelf' };

const rank = (state: SkeletonState): number => SKELETON_STATES.indexOf(state);

/**
 * The step at which a skeleton takes up a procedure: the first that is not behind the state it is in. From the shelf the
 * only way back into one is the pest freezer.
 */
export function entryStep(procedure: CleaningProcedure, state: SkeletonState): CleaningStep | null {
  const from = state === 'shelved' ? 'pest-freeze' : state;
  return procedure.steps.find((step) => rank(step.state) >= rank(from)) ?? null;
}

/**
 * Every step it may go to from where it stands, in the order of the procedure: those of the same state (to do one again)
 * and those of a state that the transition table allows; the shelf last.
 */
export function targetsFrom(
  procedure: CleaningProcedure,
  { state, stepId }: CleaningPlace,
): CleaningTarget[] {
  const steps = procedure.steps
    .filter((step) => step.id !== stepId)
    .filter((step) => step.state === state || canMoveSkeleton(state, step.state))
    .map((step): CleaningTarget => ({ kind: 'step', step }));
  return canMoveSkeleton(state, 'shelved') ? [...steps, { kind: 'shelf' }] : steps;
}

/** What usually follows; null where the skeleton is in no step of the procedure, or follows none. */
export function usualTarget(procedure: CleaningProcedure, place: CleaningPlace): CleaningTarget | null {
  const index = procedure.steps.findIndex(({ id }) => id === place.stepId);
  if (index < 0) return null;
  const next = procedure.steps[index + 1];
  const target: CleaningTarget = next ? { kind: 'step', step: next } : { kind: 'shelf' };
  const allowed = targetsFrom(procedure, place).some((one) => sameTarget(one, target));
  return allowed ? target : null;
}

const sameTarget = (one: CleaningTarget, other: CleaningTarget): boolean =>
  one.kind === 'shelf' ? other.kind === 'shelf' : other.kind === 'step' && other.step.id === one.step.id;

/** A target by its id in a request: 'next', 'shelf' or the id of a step; null where it may not go there. */
export function findTarget(
  procedure: CleaningProcedure,
  place: CleaningPlace,
  to: string,
): CleaningTarget | null {
  if (to === 'next') return usualTarget(procedure, place);
  const targets = targetsFrom(procedure, place);
  return targets.find((one) => (one.kind === 'shelf' ? to === 'shelf' : one.step.id === to)) ?? null;
}
