'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { fieldId } from '@/components/ui/field-id';
import { sayWith } from '@/components/ui/say-with';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { SKELETON_STATES, type SkeletonState } from '@/lib/skeletons/rules/cleaning';
import { freshId, moveStep, type ProcedureDraft, type StepDraft } from './procedure-draft';
import classes from './procedure-steps.module.css';

/** States that a step can mean; the shelf ends the procedure and is no step of it. */
const STATES = SKELETON_STATES.filter((state) => state !== 'shelved');

type Props = {
  /** Path of the procedure among the fields, for error links. */
  path: string;
  draft: ProcedureDraft;
  inUse: Readonly<Record<string, number>>;
  readOnly: boolean;
  onChange: (draft: ProcedureDraft) => void;
};

/** The steps of one procedure in their order. */
export function ProcedureSteps({ path, draft, inUse, readOnly, onChange }: Props) {
  const { steps } = draft;
  const setSteps = (next: StepDraft[]) => onChange({ ...draft, steps: next });
  return (
    <Stack gap="md">
      {!readOnly && (
        <TextInput
          id={fieldId(`${path}.name`)}
          label={say('Name')}
          maw={420}
          value={draft.name}
          onChange={(event) => onChange({ ...draft, name: event.currentTarget.value })}
        />
      )}
      <ol className={classes.steps}>
        {steps.map((step, index) => (
          <li key={step.id}>
            {readOnly ? (
              <StepWords step={step} />
            ) : (
              <StepFields
                path={`${path}.steps.${index}`}
                step={step}
                lying={inUse[`${draft.id}/${step.id}`] ?? 0}
                onChange={(next) => setSteps(steps.map((one, at) => (at === index ? next : one)))}
                onMove={(by) => setSteps(moveStep(steps, index, by))}
                onRemove={() => setSteps(steps.filter((_, at) => at !== index))}
                first={index === 0}
                last={index === steps.length - 1}
              />
            )}
          </li>
        ))}
      </ol>
      {!readOnly && (
        <div>
          <Button
            variant="default"
            onClick={() => {
              const id = freshId(
                'step',
                steps.map((one) => one.id),
              );
              const state = steps.at(-1)?.state ?? 'cleaning';
              setSteps([...steps, { id, name: '', state, minDays: '', maxDays: '', cautions: '' }]);
            }}
          >
            {say('Add a step')}
          </Button>
        </div>
      )}
    </Stack>
  );
}

function StepWords({ step }: { step: StepDraft }) {
  return (
    <>
      {sayWith('{b}, {minDays}–{maxDays} days, {word}{cautions}', {
        b: <b>{step.name}</b>,
        minDays: step.minDays,
        maxDays: step.maxDays,
        word: sayWord(step.state).toLowerCase(),
        cautions: step.cautions !== '' && (
          <ul>
            {step.cautions.split('\n').map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        ),
      })}
    </>
  );
}

function StepFields({
  path,
  step,
  lying,
  onChange,
  onMove,
  onRemove,
  first,
  last,
}: {
  path: string;
  step: StepDraft;
  /** How many skeletons are in this step now. */
  lying: number;
  onChange: (step: StepDraft) => void;
  onMove: (by: -1 | 1) => void;
  onRemove: () => void;
  first: boolean;
  last: boolean;
}) {
  const name = step.name || say('new step');
  return (
    <Stack gap="xs">
      <Group gap="sm" align="end">
        <TextInput
          id={fieldId(`${path}.name`)}
          label={say('Step')}
          value={step.name}
          onChange={(event) => onChange({ ...step, name: event.currentTarget.value })}
        />
        <NativeSelect
          id={fieldId(`${path}.state`)}
          label={say('State')}
          data={STATES.map((state) => ({ value: state, label: sayWord(state) }))}
          value={step.state}
          onChange={(event) => onChange({ ...step, state: event.currentTarget.value as SkeletonState })}
        />
        <TextInput
          id={fieldId(`${path}.expectedDays.min`)}
          label={say('Shortest, days')}
          inputMode="decimal"
          w={100}
          value={step.minDays}
          onChange={(event) => onChange({ ...step, minDays: event.currentTarget.value })}
        />
        <TextInput
          id={fieldId(`${path}.expectedDays.max`)}
          label={say('Longest, days')}
          inputMode="decimal"
          w={100}
          value={step.maxDays}
          onChange={(event) => onChange({ ...step, maxDays: event.currentTarget.value })}
        />
        <Group gap="xs" wrap="nowrap">
          <Button
            variant="default"
            disabled={first}
            aria-label={say('Move {name} up', { name })}
            onClick={() => onMove(-1)}
          >
            {say('Up')}
          </Button>
          <Button
            variant="default"
            disabled={last}
            aria-label={say('Move {name} down', { name })}
            onClick={() => onMove(1)}
          >
            {say('Down|move')}
          </Button>
          <Button
            variant="default"
            disabled={lying > 0 || (first && last)}
            aria-label={say('Remove {name}', { name })}
            onClick={onRemove}
          >
            {say('Remove')}
          </Button>
        </Group>
        {lying > 0 && <span>{say('{of} in it', { of: countOf(lying, 'skeleton') })}</span>}
      </Group>
      <Textarea
        id={fieldId(`${path}.cautions`)}
        label={say('Cautions, one a line')}
        autosize
        minRows={1}
        value={step.cautions}
        onChange={(event) => onChange({ ...step, cautions: event.currentTarget.value })}
      />
    </Stack>
  );
}
