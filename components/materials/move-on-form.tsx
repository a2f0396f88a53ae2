'use client';

import { Button, Group, NativeSelect, NumberInput, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, type ReactNode, useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { StepDetails } from '@/lib/storage/schema';
import { type PickedPlace, PlacePicker } from './place-picker';

export type MoveTarget = {
  value: string;
  label: string;
  /** The step freezes against pests: its temperature counts. */
  freezes?: boolean;
  /** It ends on the shelf: its place is needed. */
  shelves?: boolean;
  cautions?: readonly string[];
};

export type MoveOn = { to: string } & Omit<StepDetails, 'chosen'>;

const CLOSING = ' Local rules decide.';

/** Moves the chosen materials on: whereto, when, how, and where they are put. One form for one or for many. */
export function MoveOnForm({
  ids,
  targets,
  today,
  act,
  legend,
  busy,
  error,
  onMove,
  children,
}: {
  ids: readonly string[];
  /** The usual one first. */
  targets: readonly MoveTarget[];
  today: string;
  /** Words on the button. */
  act: string;
  legend: string;
  busy: boolean;
  error: unknown;
  onMove: (move: MoveOn) => void;
  children?: ReactNode;
}) {
  const [to, setTo] = useState('');
  const [place, setPlace] = useState<PickedPlace | null>(null);
  const [temperatureC, setTemperatureC] = useState<number | string>('');
  const target = targets.find(({ value }) => value === to) ?? targets[0];
  const problem = error === null ? null : problemOf(error);
  if (target === undefined) return null;

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = new FormData(event.currentTarget);
    const text = (name: string) => String(typed.get(name) ?? '').trim() || null;
    const doneOn = text('doneOn');
    onMove({
      to: target.value,
      method: text('method'),
      note: text('note'),
      doneOn: doneOn === today ? null : doneOn,
      temperatureC: target.freezes && typeof temperatureC === 'number' ? temperatureC : null,
      place: target.shelves ? place : null,
    });
  };

  return (
    <form onSubmit={submit} aria-label={legend}>
      <Stack gap="sm" maw={760} py="sm">
        <ErrorSummary problems={problem?.fields ?? []} title={problem?.title} />
        {problem !== null && (problem.fields ?? []).length === 0 && <p role="alert">{problem.title}</p>}
        <Group gap="md" align="end" wrap="wrap">
          <NativeSelect
            id={fieldId('chosen')}
            label={say('Next')}
            data={targets.map(({ value, label }) => ({ value, label }))}
            value={target.value}
            onChange={(event) => setTo(event.currentTarget.value)}
          />
          <TextInput
            id={fieldId('doneOn')}
            label={say('Done on')}
            name="doneOn"
            type="date"
            max={today}
            defaultValue={today}
          />
          {target.freezes && (
            <NumberInput
              label={say('Temperature in °C')}
              value={temperatureC}
              onChange={setTemperatureC}
              min={-196}
              max={30}
              maw={140}
            />
          )}
        </Group>
        {target.cautions !== undefined && target.cautions.length > 0 && (
          <CautionCard title={target.label} source={say('the lab’s procedure; common practice')}>
            <ul>
              {target.cautions.map((caution) => (
                <li key={caution}>{caution.replace(CLOSING, '')}</li>
              ))}
            </ul>
          </CautionCard>
        )}
        <TextInput
          label={say('Method')}
          name="method"
          description={say('Tank, colony, solvent, room.')}
          maxLength={200}
        />
        <Textarea
          id={fieldId('note')}
          label={say('Note')}
          name="note"
          autosize
          minRows={1}
          maxLength={2000}
        />
        {target.shelves && <PlacePicker ids={ids} value={place} onChange={setPlace} />}
        <Group>
          <Button type="submit" loading={busy}>
            {act}
          </Button>
          {children}
        </Group>
      </Stack>
    </form>
  );
}
