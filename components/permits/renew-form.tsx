'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { type PermitRecord, renewPermitRequest } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import classes from './permits.module.css';
import { usePermitAct } from './queries';

/** Enters the permit that follows this one: same terms and people, another number and other dates. */
export function RenewForm({ permit, onDone }: { permit: PermitRecord; onDone: () => void }) {
  const router = useRouter();
  const act = usePermitAct(permit.id);
  const [fields, setFields] = useState({ number: '', effectiveOn: '', expiresOn: '' });
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const parsed = renewPermitRequest.safeParse({ ...fields, expiresOn: fields.expiresOn || null });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    act.mutate(
      { act: 'renew', body: parsed.data },
      { onSuccess: (record) => router.push(paths.permit(record.id)) },
    );
  };
  const refused = problemOf(act.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const text = (name: keyof typeof fields, label: string, type = 'text') => (
    <TextInput
      id={fieldId(name)}
      label={label}
      type={type}
      value={fields[name]}
      error={problems.find(({ path }) => path === name)?.message}
      onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
    />
  );
  return (
    <Section
      id="renew"
      title={say('Its renewal')}
      note={say('Terms and people come along; look through them afterwards.')}
    >
      <form onSubmit={submit} noValidate className={classes.form}>
        <ErrorSummary
          problems={problems}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : refused.title}
        />
        {act.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
        <div className={classes.row}>
          {text('number', say('Number of the new permit'))}
          {text('effectiveOn', say('In force from'), 'date')}
          {text('expiresOn', say('Until (empty: no end named)'), 'date')}
        </div>
        <Group>
          <Button type="submit" loading={act.isPending}>
            {say('Enter the renewal')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Not now')}
          </Button>
        </Group>
      </form>
    </Section>
  );
}
