'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { Section } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

/** The way of the bird from hand to hand. */
export function CustodySection({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const [giving, setGiving] = useState(false);
  const [banding, setBanding] = useState(false);
  const { abilities } = find;
  return (
    <Section
      id="custody"
      title={say('Custody')}
      note={say('With {to} now', { to: find.custody.at(-1)?.to ?? say('the finder') })}
      acts={
        <>
          {abilities.handOver && !giving ? (
            <Button variant="default" onClick={() => setGiving(true)}>
              {say('Hand it over')}
            </Button>
          ) : null}
          {abilities.reportBand && !banding ? (
            <Button variant="default" onClick={() => setBanding(true)}>
              {say('Band was reported')}
            </Button>
          ) : null}
        </>
      }
    >
      {find.custodyGaps.map((gap) => (
        <p key={gap}>
          <StateBadge tone="attention">{gap}</StateBadge>
        </p>
      ))}
      {giving ? <GiveForm find={find} act={act} onDone={() => setGiving(false)} /> : null}
      {banding ? <BandForm find={find} act={act} onDone={() => setBanding(false)} /> : null}
      <DataList
        label={say('From hand to hand')}
        columns={[
          { id: 'at', head: say('When'), cell: (step) => <Moment at={step.at} show="both" /> },
          { id: 'from', head: say('From'), cell: (step) => step.from },
          { id: 'to', head: say('To'), cell: (step) => step.to },
          { id: 'note', head: say('Note'), cell: (step) => step.note ?? '' },
        ]}
        rows={find.custody}
        rowId={(step) => step.id}
      />
    </Section>
  );
}

type FormProps = { find: SalvageRecord; act: FindAct; onDone: () => void };

function GiveForm({ find, act, onDone }: FormProps) {
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

function BandForm({ find, act, onDone }: FormProps) {
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
