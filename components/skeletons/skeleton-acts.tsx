'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { MoveOnForm, type MoveTarget } from '@/components/materials/move-on-form';
import { countOf, say } from '@/lib/platform/words/say';
import type { CleaningProcedure, CleaningStep, SkeletonState } from '@/lib/skeletons/rules/cleaning';
import { type CleaningTarget, entryStep, targetsFrom, usualTarget } from '@/lib/skeletons/rules/progress';
import { useAdvanceSkeletons, useChooseProcedure } from './queries';

/** One skeleton as far as moving it on needs it. */
export type MovableSkeleton = {
  id: string;
  state: string;
  /** The step begun last. */
  step: { id: string; step: string; procedureId: string | null } | null;
};

type Props = {
  skeletons: readonly MovableSkeleton[];
  procedures: readonly CleaningProcedure[];
  today: string;
  onDone?: () => void;
};

const chosenOf = (skeletons: readonly MovableSkeleton[]) =>
  skeletons.map(({ id, step }) => ({ materialId: id, stepId: step?.id ?? null }));

const procedureOf = (skeleton: MovableSkeleton, procedures: readonly CleaningProcedure[]) =>
  procedures.find(({ id }) => id === skeleton.step?.procedureId);

/** What can be done with skeletons: begin a procedure, move them on in it, or take up another one. */
export function SkeletonActs(props: Props) {
  const { skeletons, procedures } = props;
  const [changing, setChanging] = useState(false);
  const without = skeletons.some((skeleton) => procedureOf(skeleton, procedures) === undefined);
  const targets = without ? [] : commonTargets(skeletons, procedures);
  if (changing || targets.length === 0) {
    return (
      <ProcedureForm {...props}>
        {!without && targets.length > 0 && (
          <Button variant="default" onClick={() => setChanging(false)}>
            {say('Keep the procedure')}
          </Button>
        )}
      </ProcedureForm>
    );
  }
  return (
    <AdvanceForm {...props} targets={targets}>
      <Button variant="default" onClick={() => setChanging(true)}>
        {say('Take up another procedure')}
      </Button>
    </AdvanceForm>
  );
}

function ProcedureForm({
  skeletons,
  procedures,
  today,
  onDone,
  children,
}: Props & { children: React.ReactNode }) {
  const choose = useChooseProcedure();
  const targets = procedures
    .filter(({ id }) => skeletons.some(({ step }) => step?.procedureId !== id))
    .map((procedure): MoveTarget => {
      const states = skeletons.map(({ state }) => entryStep(procedure, state as SkeletonState));
      const [entry] = states;
      return {
        value: procedure.id,
        label: entry
          ? say('{name}, from “{name2}”', { name: procedure.name, name2: entry.name })
          : procedure.name,
        cautions: entry?.cautions,
      };
    });
  return (
    <MoveOnForm
      ids={skeletons.map(({ id }) => id)}
      targets={targets}
      today={today}
      legend={say('Choose how it is cleaned')}
      act={
        skeletons.length === 1
          ? say('Begin')
          : say('Begin with {of}', { of: countOf(skeletons.length, 'skeleton') })
      }
      busy={choose.isPending}
      error={choose.error}
      onMove={({ to, method, note, doneOn }) =>
        choose.mutate(
          { procedureId: to, method, note, doneOn, chosen: chosenOf(skeletons) },
          { onSuccess: onDone },
        )
      }
    >
      {children}
    </MoveOnForm>
  );
}

function AdvanceForm({
  skeletons,
  today,
  onDone,
  targets,
  children,
}: Props & { targets: MoveTarget[]; children: React.ReactNode }) {
  const advance = useAdvanceSkeletons();
  return (
    <MoveOnForm
      ids={skeletons.map(({ id }) => id)}
      targets={targets}
      today={today}
      legend={say('Move on')}
      act={
        skeletons.length === 1
          ? say('Move on')
          : say('Move {of} on', { of: countOf(skeletons.length, 'skeleton') })
      }
      busy={advance.isPending}
      error={advance.error}
      onMove={(move) => advance.mutate({ ...move, chosen: chosenOf(skeletons) }, { onSuccess: onDone })}
    >
      {children}
    </MoveOnForm>
  );
}

const idOf = (target: CleaningTarget): string => (target.kind === 'shelf' ? 'shelf' : target.step.id);

const toMove = (
  value: string,
  label: string,
  steps: readonly CleaningStep[],
  shelves: boolean,
): MoveTarget => ({
  value,
  label,
  freezes: steps.some(({ state }) => state === 'pest-freeze'),
  shelves,
  cautions: [...new Set(steps.flatMap(({ cautions }) => cautions))],
});

/** Where all of them may go: each to its own next step first, then every step that is open to all. */
function commonTargets(
  skeletons: readonly MovableSkeleton[],
  procedures: readonly CleaningProcedure[],
): MoveTarget[] {
  const places = skeletons.flatMap((skeleton) => {
    const procedure = procedureOf(skeleton, procedures);
    if (procedure === undefined) return [];
    const place = { state: skeleton.state as SkeletonState, stepId: skeleton.step?.step ?? null };
    return [{ targets: targetsFrom(procedure, place), usual: usualTarget(procedure, place) }];
  });
  const usual = places.map((place) => place.usual);
  const ids = new Set(usual.map((target) => target && idOf(target)));
  const steps = usual.flatMap((target) => (target?.kind === 'step' ? [target.step] : []));
  const next: MoveTarget[] = [];
  if (!usual.includes(null)) {
    const [first] = usual;
    const label =
      ids.size > 1
        ? say('Each to its next step')
        : first?.kind === 'step'
          ? first.step.name
          : say('On the shelf');
    next.push(
      toMove(
        'next',
        label,
        steps,
        usual.some((target) => target?.kind === 'shelf'),
      ),
    );
  }
  const [own, ...others] = places;
  const open = (own?.targets ?? [])
    .filter((target) => others.every((place) => place.targets.some((one) => idOf(one) === idOf(target))))
    .filter((target) => ids.size > 1 || !ids.has(idOf(target)))
    .map((target) =>
      target.kind === 'shelf'
        ? toMove('shelf', say('On the shelf'), [], true)
        : toMove(target.step.id, target.step.name, [target.step], false),
    );
  return [...next, ...open];
}
