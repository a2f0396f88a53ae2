'use client';

import { Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { TaxonName } from '@/components/ui/taxon-name';
import { phrases, say } from '@/lib/platform/words/say';
import { ActPanel, type ActProps } from './act-panel';
import classes from './loans.module.css';

type PlainAct = 'take-into-review' | 'grant' | 'decline' | 'withdraw' | 'unpack' | 'close';

const PLAIN: Record<PlainAct, { title: string; confirm: string; note: string; needed?: true }> = phrases({
  'take-into-review': {
    title: 'Take the request into review',
    confirm: 'Take it into review',
    note: 'Note',
  },
  grant: { title: 'Grant it', confirm: 'Grant the request', note: 'Note to the borrower' },
  decline: { title: 'Decline it', confirm: 'Decline the request', note: 'Why', needed: true },
  withdraw: { title: 'The borrower withdraws', confirm: 'Withdraw the request', note: 'Why' },
  unpack: { title: 'Unpack it', confirm: 'Unpack the box', note: 'Why' },
  close: { title: 'Close it', confirm: 'Close the loan', note: 'Note' },
});

/** An act that needs nothing but perhaps a word. */
export function PlainForm({ loan, onDone, act }: ActProps & { act: PlainAct }) {
  const [note, setNote] = useState('');
  const words = PLAIN[act];
  return (
    <ActPanel
      loan={loan}
      title={words.title}
      confirm={words.confirm}
      tone={act === 'decline' ? 'stop' : 'lead'}
      disabled={words.needed && note.trim().length < 3}
      command={() => ({ act, body: { version: loan.version, note: note.trim() || null } })}
      onDone={onDone}
    >
      <Textarea
        id={fieldId('note')}
        label={words.note}
        required={words.needed}
        autosize
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </ActPanel>
  );
}

/** Each line with the condition in which it goes out. */
export function PackForm({ loan, onDone }: ActProps) {
  const [conditions, setConditions] = useState<Record<string, string>>(
    Object.fromEntries(loan.lines.map(({ id, conditionOut }) => [id, conditionOut ?? ''])),
  );
  const [terms, setTerms] = useState(loan.conditions ?? '');
  const written = Object.entries(conditions).filter(([, text]) => text.trim() !== '');
  return (
    <ActPanel
      loan={loan}
      title={say('Pack it')}
      confirm={say('Pack the box')}
      disabled={written.length < loan.lines.length}
      command={() => ({
        act: 'pack',
        body: {
          version: loan.version,
          lines: written.map(([lineId, conditionOut]) => ({ lineId, conditionOut: conditionOut.trim() })),
          conditions: terms.trim() || null,
        },
      })}
      onDone={onDone}
    >
      <ul className={classes.lines}>
        {loan.lines.map((line) => (
          <li key={line.id} className={classes.line}>
            <div>
              <b>{line.label}</b> <TaxonName scientific={line.scientificName} />
              <br />
              {line.place ?? say('no place noted')}
            </div>
            <TextInput
              id={fieldId(`lines.${line.id}`)}
              label={say('Condition as it goes out')}
              required
              value={conditions[line.id] ?? ''}
              onChange={(event) => setConditions({ ...conditions, [line.id]: event.currentTarget.value })}
            />
          </li>
        ))}
      </ul>
      <Textarea
        id={fieldId('conditions')}
        label={say('Terms that go with the box')}
        autosize
        value={terms}
        onChange={(event) => setTerms(event.currentTarget.value)}
      />
    </ActPanel>
  );
}

/** The day it leaves, and the day it is due back. */
export function SendForm({ loan, today, onDone }: ActProps) {
  const [on, setOn] = useState(today);
  const [dueOn, setDueOn] = useState(loan.dueOn ?? '');
  return (
    <ActPanel
      loan={loan}
      title={say('Send it')}
      confirm={say('Send the box')}
      disabled={on === '' || dueOn === ''}
      command={() => ({ act: 'send', body: { version: loan.version, on, dueOn } })}
      onDone={onDone}
    >
      <p>
        {say(
          'Every material goes off its shelf; the loan remembers where it lay. Put one copy of the papers inside the box.',
        )}
      </p>
      <div className={classes.row}>
        <TextInput
          id={fieldId('on')}
          label={say('Sent on')}
          type="date"
          max={today}
          value={on}
          onChange={(event) => setOn(event.currentTarget.value)}
        />
        <TextInput
          id={fieldId('dueOn')}
          label={say('Due back on')}
          type="date"
          value={dueOn}
          onChange={(event) => setDueOn(event.currentTarget.value)}
        />
      </div>
    </ActPanel>
  );
}

/** The borrower says that it arrived. */
export function ReceiptForm({ loan, today, onDone }: ActProps) {
  const [on, setOn] = useState(today);
  const [note, setNote] = useState('');
  return (
    <ActPanel
      loan={loan}
      title={say('It arrived')}
      confirm={say('Confirm receipt')}
      disabled={on === ''}
      command={() => ({
        act: 'confirm-receipt',
        body: { version: loan.version, on, note: note.trim() || null },
      })}
      onDone={onDone}
    >
      <TextInput
        id={fieldId('on')}
        label={say('Arrived on')}
        type="date"
        max={today}
        value={on}
        onChange={(event) => setOn(event.currentTarget.value)}
        maw={240}
      />
      <Textarea
        id={fieldId('note')}
        label={say('What the borrower said')}
        autosize
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </ActPanel>
  );
}

/** A later due date, asked for in writing. */
export function ExtendForm({ loan, today, onDone }: ActProps) {
  const [askedOn, setAskedOn] = useState(today);
  const [toDueOn, setToDueOn] = useState('');
  const [reason, setReason] = useState('');
  return (
    <ActPanel
      loan={loan}
      title={say('Extend it')}
      confirm={say('Extend the loan')}
      disabled={toDueOn === '' || askedOn === '' || reason.trim().length < 3}
      command={() => ({
        act: 'extend',
        body: { version: loan.version, askedOn, toDueOn, reason: reason.trim() },
      })}
      onDone={onDone}
    >
      <div className={classes.row}>
        <TextInput
          id={fieldId('askedOn')}
          label={say('Asked in writing on')}
          type="date"
          max={today}
          value={askedOn}
          onChange={(event) => setAskedOn(event.currentTarget.value)}
        />
        <TextInput
          id={fieldId('toDueOn')}
          label={say('Due back on')}
          description={say('It is {dueOn} now.', { dueOn: loan.dueOn ?? say('not set') })}
          type="date"
          value={toDueOn}
          onChange={(event) => setToDueOn(event.currentTarget.value)}
        />
      </div>
      <Textarea
        id={fieldId('reason')}
        label={say('Why, as it was asked')}
        required
        autosize
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
    </ActPanel>
  );
}
