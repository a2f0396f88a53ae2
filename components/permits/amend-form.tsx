'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ConflictMerge } from '@/components/ui/conflict-merge';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { isSame } from '@/components/ui/merge';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { amendPermitRequest } from '@/lib/permits/permit-schema';
import { sayClause } from '@/lib/permits/rules/sentences';
import { type PermitRecord, type PermitText, permitRecord } from '@/lib/permits/wire';
import { ApiProblem } from '@/lib/platform/api';
import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { fromDraft, toDraft } from './clause-drafts';
import { ClauseEditor } from './clause-editor';
import { fromPersonDraft, PeopleEditor, toPersonDraft } from './people-editor';
import classes from './permits.module.css';
import { usePermitAct } from './queries';

const textOf = ({ expiresOn, subPermittees, clauses }: PermitText): PermitText => ({
  expiresOn,
  subPermittees,
  clauses,
});

/** Amends the terms from a day on; only what differs is sent. */
export function AmendForm({ permit, onDone }: { permit: PermitRecord; onDone: () => void }) {
  const act = usePermitAct(permit.id);
  const [base, setBase] = useState(permit);
  const [expiresOn, setExpiresOn] = useState(permit.expiresOn ?? '');
  const [people, setPeople] = useState(
    permit.subPermittees.map((person, index) => toPersonDraft(person, `${index}`)),
  );
  const [clauses, setClauses] = useState(permit.clauses.map((clause, index) => toDraft(clause, `${index}`)));
  const [effectiveOn, setEffectiveOn] = useState('');
  const [reason, setReason] = useState('');
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const theirs = staleCurrent(act.error);

  const mine = {
    expiresOn: expiresOn === '' ? null : expiresOn,
    subPermittees: people.map(fromPersonDraft),
    clauses: clauses.map(fromDraft),
  };
  const send = (text: object, on: PermitRecord) => {
    attempt.current += 1;
    const changed = Object.fromEntries(
      Object.entries(text).filter(([name, value]) => !isSame(value, on[name as keyof PermitText])),
    );
    const parsed = amendPermitRequest.safeParse({ ...changed, version: on.version, effectiveOn, reason });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    act.mutate({ act: 'amend', body: parsed.data }, { onSuccess: onDone });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    send(mine, base);
  };

  if (theirs !== null) {
    return (
      <ConflictMerge<PermitText>
        fields={[
          {
            name: 'expiresOn',
            label: say('Until'),
            show: (day: string | null) => (day === null ? say('no end') : sayDay(day)),
          },
          {
            name: 'subPermittees',
            label: say('Sub-permittees'),
            show: (some: PermitText['subPermittees']) =>
              some.map(({ name }) => name).join(', ') || say('none'),
          },
          {
            name: 'clauses',
            label: say('Clauses'),
            show: (some: PermitText['clauses']) =>
              some.map((clause) => `${clause.id}. ${sayClause(clause)}`).join(' '),
          },
        ]}
        mine={mine as PermitText}
        theirs={textOf(theirs)}
        base={textOf(base)}
        who={say('Somebody else')}
        busy={act.isPending}
        onMerge={(merged) => {
          setBase(theirs);
          send(merged, theirs);
        }}
        onTakeTheirs={onDone}
      />
    );
  }
  const refused = problemOf(act.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  return (
    <Section
      id="amend"
      title={say('Amend the terms')}
      note={say('The text before is kept and judges finds before the day you name.')}
    >
      <form onSubmit={submit} noValidate className={classes.form}>
        <ErrorSummary
          problems={problems}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : refused.title}
        />
        {act.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
        <div className={classes.row}>
          <TextInput
            id={fieldId('effectiveOn')}
            label={say('The new text holds from')}
            type="date"
            required
            value={effectiveOn}
            onChange={(event) => setEffectiveOn(event.currentTarget.value)}
          />
          <TextInput
            id={fieldId('expiresOn')}
            label={say('Until (empty: no end named)')}
            type="date"
            value={expiresOn}
            onChange={(event) => setExpiresOn(event.currentTarget.value)}
          />
        </div>
        <PeopleEditor people={people} fromOn={effectiveOn} problems={problems} onChange={setPeople} />
        <ClauseEditor drafts={clauses} problems={problems} onChange={setClauses} />
        <TextInput
          id={fieldId('reason')}
          label={say('Why does it change?')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <Group>
          <Button type="submit" loading={act.isPending}>
            {say('Save the amendment')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Leave as it was')}
          </Button>
        </Group>
      </form>
    </Section>
  );
}

/** What stands now, when a save came too late. */
export function staleCurrent(error: unknown): PermitRecord | null {
  if (!(error instanceof ApiProblem) || error.problem.code !== 'stale-version') return null;
  const current = permitRecord.safeParse((error.problem.data as { current?: unknown } | null)?.current);
  return current.success ? current.data : null;
}
