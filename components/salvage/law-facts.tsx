'use client';

import { Button, Group, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { problemOf } from '@/components/ui/problem';
import { sayDay } from '@/lib/platform/say-dates';
import { phrases, say } from '@/lib/platform/words/say';
import type { FindFacts } from '@/lib/salvage/schema';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

type Kind = 'day' | 'words' | 'answer';
type Asked = {
  name: keyof FindFacts;
  label: string;
  kind: Kind;
  officer?: boolean;
  only?: readonly string[];
};

/** What the rules ask about a find, in the order in which it usually comes up. */
const ASKED: readonly Asked[] = phrases([
  { name: 'contactedOn', label: 'Office contacted on', kind: 'day' },
  { name: 'contactDocument', label: 'Its written answer', kind: 'words', officer: true },
  { name: 'lawEnforcementToldOn', label: 'Law enforcement told on', kind: 'day' },
  { name: 'instructionReference', label: 'Instruction received', kind: 'words', officer: true },
  { name: 'writtenReleaseReference', label: 'Written release', kind: 'words', officer: true },
  { name: 'finderTrained', label: 'Finder is trained', kind: 'answer', only: ['egg', 'nest'] },
  { name: 'nestInactive', label: 'Nest was not in use', kind: 'answer', only: ['nest'] },
  { name: 'eggNonviable', label: 'Egg could not hatch', kind: 'answer', only: ['egg'] },
  { name: 'breedingSeason', label: 'In the breeding season', kind: 'answer', only: ['egg'] },
  { name: 'activeSearch', label: 'Found by an active search', kind: 'answer' },
  { name: 'sourceAuthorised', label: 'Source was authorised', kind: 'answer', officer: true },
  { name: 'exhibitionBird', label: 'Came from an exhibition', kind: 'answer' },
]);

const sayAnswer = (value: unknown): string =>
  value === null || value === undefined ? say('not known') : value ? say('yes') : say('no');

function sayFact({ kind }: Asked, value: unknown): string {
  if (kind === 'answer') return sayAnswer(value);
  if (typeof value !== 'string') return say('not noted');
  return kind === 'day' ? sayDay(value) : value;
}

/** Facts that the coverage check asks for beside the find itself; documents of an office are the officer's to enter. */
export function LawFacts({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const [editing, setEditing] = useState(false);
  const asked = ASKED.filter(({ only }) => only === undefined || only.includes(find.specimenType));
  return (
    <Section
      id="law-facts"
      title={say('What the rules ask')}
      acts={
        find.abilities.recheck && find.abilities.change && !editing ? (
          <Button variant="default" onClick={() => setEditing(true)}>
            {say('Answer')}
          </Button>
        ) : null
      }
    >
      {editing ? (
        <AnswerForm
          find={find}
          asked={asked.filter(({ officer }) => !officer || find.abilities.enterOfficerFacts)}
          act={act}
          onDone={() => setEditing(false)}
        />
      ) : (
        <Facts>
          {asked.map((one) => (
            <Fact key={one.name} term={one.label}>
              {sayFact(one, find.facts[one.name])}
            </Fact>
          ))}
        </Facts>
      )}
    </Section>
  );
}

function AnswerForm({
  find,
  asked,
  act,
  onDone,
}: {
  find: SalvageRecord;
  asked: readonly Asked[];
  act: FindAct;
  onDone: () => void;
}) {
  const start = Object.fromEntries(
    asked.map(({ name, kind }) => {
      const value = find.facts[name];
      if (kind === 'answer') return [name, value === null ? '' : value ? 'yes' : 'no'];
      return [name, typeof value === 'string' ? value : ''];
    }),
  );
  const [fields, setFields] = useState<Record<string, string>>(start);
  const [reason, setReason] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const facts = Object.fromEntries(
      asked
        .filter(({ name }) => fields[name] !== start[name])
        .map(({ name, kind }) => [name, readAnswer(kind, fields[name] ?? '', name)]),
    );
    act.mutate({ act: 'change', body: { version: find.version, reason, facts } }, { onSuccess: onDone });
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.fields?.[0]?.message ?? problem.title}</p>}
      <div className={classes.row}>
        {asked.map(({ name, label, kind }) =>
          kind === 'answer' ? (
            <NativeSelect
              key={name}
              label={label}
              data={[
                ...(ALWAYS_KNOWN.has(name) ? [] : [{ value: '', label: say('Not known') }]),
                { value: 'yes', label: say('Yes') },
                { value: 'no', label: say('No') },
              ]}
              value={fields[name]}
              onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
            />
          ) : (
            <TextInput
              key={name}
              label={label}
              type={kind === 'day' ? 'date' : 'text'}
              value={fields[name]}
              onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
            />
          ),
        )}
      </div>
      <TextInput
        label={say('Why, or by whom?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Save the answers')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave as it was')}
        </Button>
      </Group>
    </form>
  );
}

/** Facts that are never "not known": no is what stands until somebody says yes. */
const ALWAYS_KNOWN: ReadonlySet<string> = new Set(['activeSearch']);

function readAnswer(kind: Kind, text: string, name: string): unknown {
  if (kind !== 'answer') return text.trim() || null;
  if (text === '') return ALWAYS_KNOWN.has(name) ? false : null;
  return text === 'yes';
}
