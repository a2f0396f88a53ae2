'use client';

import { Button, Group, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { say, sayWord } from '@/lib/platform/words/say';
import type { HoldRecord, SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

type FormProps = { act: FindAct; onDone: () => void };

/** Why a hold may end, and on which paper. */
export function LiftForm({ hold, version, act, onDone }: FormProps & { hold: HoldRecord; version: number }) {
  const [reason, setReason] = useState('');
  const [paper, setPaper] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const body = { version, reason, documentReference: paper.trim() || null };
    act.mutate({ act: `holds/${hold.id}/lift`, body }, { onSuccess: onDone });
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.fields?.[0]?.message ?? problem.title}</p>}
      <TextInput
        label={say('Why may it go on?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <TextInput
        label={
          hold.needsDocument
            ? say('Written release, instruction or ruling')
            : say('Document, if there is one')
        }
        required={hold.needsDocument}
        value={paper}
        onChange={(event) => setPaper(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Lift it')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave it on hold')}
        </Button>
      </Group>
    </form>
  );
}

/** A new hold: what kind, why, and who must be told. */
export function PlaceForm({ find, act, onDone }: FormProps & { find: SalvageRecord }) {
  const [kind, setKind] = useState(find.abilities.placeHolds[0] ?? '');
  const [reason, setReason] = useState('');
  const [tellWhom, setTellWhom] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const body = { version: find.version, kind, reason, tellWhom: tellWhom.trim() || null };
    act.mutate({ act: 'holds', body }, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      <NativeSelect
        label={say('Kind of hold')}
        data={find.abilities.placeHolds.map((value) => ({ value, label: sayWord(value) }))}
        value={kind}
        onChange={(event) => setKind(event.currentTarget.value)}
      />
      <TextInput
        label={say('Why is it held?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <TextInput
        label={say('Who must be told?')}
        value={tellWhom}
        onChange={(event) => setTellWhom(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Put it on hold')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}
