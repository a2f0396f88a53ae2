'use client';

import { Button, Group, NativeSelect, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ConflictMerge } from '@/components/ui/conflict-merge';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { permitKinds } from '@/lib/permits/permit-schema';
import { correctPermitRequest, type PermitRecord } from '@/lib/permits/wire';
import { say } from '@/lib/platform/words/say';
import { staleCurrent } from './amend-form';
import classes from './permits.module.css';
import { usePermitAct } from './queries';
import { KIND_WORDS } from './words';

type Slips = Pick<
  PermitRecord,
  'number' | 'authority' | 'kind' | 'jurisdiction' | 'effectiveOn' | 'holder' | 'notes'
>;

const slipsOf = ({
  number,
  authority,
  kind,
  jurisdiction,
  effectiveOn,
  holder,
  notes,
}: PermitRecord): Slips => ({
  number,
  authority,
  kind,
  jurisdiction,
  effectiveOn,
  holder,
  notes,
});

/** Corrects a slip of the pen in what identifies the permit; terms are amended instead. */
export function CorrectForm({ permit, onDone }: { permit: PermitRecord; onDone: () => void }) {
  const act = usePermitAct(permit.id);
  const [base, setBase] = useState(permit);
  const [mine, setMine] = useState(slipsOf(permit));
  const [reason, setReason] = useState('');
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const theirs = staleCurrent(act.error);

  const send = ({ holder, ...slips }: Slips, on: PermitRecord) => {
    attempt.current += 1;
    const parsed = correctPermitRequest.safeParse({
      ...slips,
      notes: slips.notes || null,
      ...(holder === on.holder ? {} : { holder: { name: holder } }),
      version: on.version,
      reason,
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    act.mutate({ act: 'correct', body: parsed.data }, { onSuccess: onDone });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    send(mine, base);
  };
  if (theirs !== null) {
    return (
      <ConflictMerge<Slips>
        fields={[
          { name: 'number', label: say('Number') },
          { name: 'authority', label: say('Authority') },
          { name: 'kind', label: say('Kind') },
          { name: 'jurisdiction', label: say('Jurisdiction') },
          { name: 'effectiveOn', label: say('In force from') },
          { name: 'holder', label: say('Holder') },
          { name: 'notes', label: say('Notes') },
        ]}
        mine={mine}
        theirs={slipsOf(theirs)}
        base={slipsOf(base)}
        who={say('Somebody else')}
        busy={act.isPending}
        onMerge={(merged) => {
          setMine(merged);
          setBase(theirs);
          send(merged, theirs);
        }}
        onTakeTheirs={onDone}
      />
    );
  }
  const refused = problemOf(act.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const text = (name: Exclude<keyof Slips, 'kind' | 'notes'>, label: string, type = 'text') => (
    <TextInput
      id={fieldId(name)}
      label={label}
      type={type}
      value={mine[name]}
      error={problems.find(({ path }) => path === name || path.startsWith(`${name}.`))?.message}
      onChange={(event) => setMine({ ...mine, [name]: event.currentTarget.value })}
    />
  );
  return (
    <Section
      id="correct"
      title={say('Correct a mistake')}
      note={say('For what was copied wrongly. What the office changed is an amendment.')}
    >
      <form onSubmit={submit} noValidate className={classes.form}>
        <ErrorSummary
          problems={problems}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : refused.title}
        />
        {act.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
        <div className={classes.row}>
          {text('number', say('Number'))}
          {text('authority', say('Issuing authority'))}
          <NativeSelect
            label={say('Kind')}
            data={permitKinds.map((value) => ({ value, label: KIND_WORDS[value] }))}
            value={mine.kind}
            onChange={(event) => setMine({ ...mine, kind: event.currentTarget.value as Slips['kind'] })}
          />
          {text('jurisdiction', say('Jurisdiction'))}
          {text('effectiveOn', say('In force from'), 'date')}
          {text('holder', say('Holder'))}
        </div>
        <Textarea
          label={say('Notes')}
          autosize
          value={mine.notes ?? ''}
          onChange={(event) => setMine({ ...mine, notes: event.currentTarget.value })}
        />
        <TextInput
          id={fieldId('reason')}
          label={say('Why is it corrected?')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <Group>
          <Button type="submit" loading={act.isPending}>
            {say('Save the correction')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Leave as it was')}
          </Button>
        </Group>
      </form>
    </Section>
  );
}
