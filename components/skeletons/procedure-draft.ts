import type { SkeletonState } from '@/lib/skeletons/rules/cleaning';
import type { ProcedureBook, SaveProceduresRequest } from '@/lib/skeletons/schema';

/** A step as it is typed: days as text, cautions one a line. */
export type StepDraft = {
  id: string;
  name: string;
  state: SkeletonState;
  minDays: string;
  maxDays: string;
  cautions: string;
};
export type ProcedureDraft = { id: string; name: string; steps: StepDraft[] };

export const toDrafts = (procedures: ProcedureBook['procedures']): ProcedureDraft[] =>
  procedures.map(({ id, name, steps }) => ({
    id,
    name,
    steps: steps.map((step) => ({
      id: step.id,
      name: step.name,
      state: step.state,
      minDays: String(step.expectedDays.min),
      maxDays: String(step.expectedDays.max),
      cautions: step.cautions.join('\n'),
    })),
  }));

const days = (text: string): number => (text.trim() === '' ? Number.NaN : Number(text.replace(',', '.')));

/** What is sent; what was typed wrong is found by the schema. */
export const fromDrafts = (drafts: readonly ProcedureDraft[]): SaveProceduresRequest['procedures'] =>
  drafts.map(({ id, name, steps }) => ({
    id,
    name,
    steps: steps.map((step) => ({
      id: step.id,
      name: step.name,
      state: step.state,
      expectedDays: { min: days(step.minDays), max: days(step.maxDays) },
      cautions: step.cautions
        .split('\n')
        .map((line) => line.trim())
        .filter(Boolean),
    })),
  }));

/** An id made of a name that is not among the taken ones: 'Degrease' → 'degrease', 'degrease-2'. */
export function freshId(name: string, taken: readonly string[]): string {
  const stem =
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'step';
  let count = 1;
  const id = () => (count === 1 ? stem : `${stem}-${count}`);
  while (taken.includes(id())) count += 1;
  return id();
}

/** The steps with one moved up (-1) or down (1). */
export function moveStep(steps: readonly StepDraft[], index: number, by: -1 | 1): StepDraft[] {
  const moved = [...steps];
  const [step] = moved.splice(index, 1);
  if (step !== undefined) moved.splice(index + by, 0, step);
  return moved;
}
