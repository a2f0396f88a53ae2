'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

type FormProps = { find: SalvageRecord; act: FindAct; onDone: () => void };

/** A step from hand to hand. */
export function GiveForm({ find, act, onDone }: FormProps) {
  const [toWhom, setToWhom] = useState('');
  const [when, setWhen] = useState('');
  const [note, setNote] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const at = when === '' ? null : new Date(when).toISOString();
    const body = { version: find.version, toWhom, at, note: note.trim() || null };
    act.mutate({ act: 'custody', body }, { onSuccess: onDone });
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.fields?.[0]?.message ?? problem.title}</p>}
      <p>{say('From {to}', { to: find.custody.at(-1)?.to ?? say('the finder') })}</p>
      <div className={classes.row}>
        <TextInput
          label={say('To')}
          required
          value={toWhom}
          onChange={(event) => setToWhom(event.currentTarget.value)}
        />
        <TextInput
          label={say('When (empty: now)')}
          type="datetime-local"
          value={when}
          onChange={(event) => setWhen(event.currentTarget.value)}
        />
      </div>
      <TextInput label={say('Note')} value={note} onChange={(event) => setNote(event.currentTarget.value)} />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Note the step')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}

/** The day on which the band was reported. */
export function BandForm({ find, act, onDone }: FormProps) {
  const [reportedOn, setReportedOn] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({ act: 'band', body: { version: find.version, reportedOn } }, { onSuccess: onDone });
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.fields?.[0]?.message ?? problem.title}</p>}
      <TextInput
        label={say('Band {bandNumber} was reported on', { bandNumber: find.bandNumber })}
        type="date"
        required
        value={reportedOn}
        onChange={(event) => setReportedOn(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Note it')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}
