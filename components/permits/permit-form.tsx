'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { whenSeen } from '@/components/ui/later';
import { newKey } from '@/components/ui/new-key';
import { ListHead } from '@/components/ui/page-head';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { createPermitRequest, permitKinds } from '@/lib/permits/permit-schema';
import type { PermitDefault } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { type ClauseDraft, fromDraft, toDraft } from './clause-drafts';
import { LegalCaution } from './legal-caution';
import { fromPersonDraft, PeopleEditor, type PersonDraft } from './people-editor';
import classes from './permits.module.css';
import { useCreatePermit } from './queries';
import { KIND_WORDS } from './words';

const ClauseEditor = whenSeen(() => import('./clause-editor').then((module) => module.ClauseEditor), 3);

const EMPTY = {
  number: '',
  authority: '',
  kind: 'salvage' as (typeof permitKinds)[number],
  jurisdiction: '',
  holder: '',
  effectiveOn: '',
  expiresOn: '',
};

/** A new permit: what it is, who may act, and its conditions as structured clauses. */
export function PermitForm({ defaults }: { defaults: readonly PermitDefault[] }) {
  const router = useRouter();
  const create = useCreatePermit();
  const [fields, setFields] = useState(EMPTY);
  const [people, setPeople] = useState<PersonDraft[]>([]);
  const [clauses, setClauses] = useState<ClauseDraft[]>([]);
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const key = useRef(newKey());

  const submit = (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const parsed = createPermitRequest.safeParse({
      ...fields,
      expiresOn: fields.expiresOn === '' ? null : fields.expiresOn,
      holder: { name: fields.holder },
      subPermittees: people.map(fromPersonDraft),
      clauses: clauses.map(fromDraft),
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    create.mutate(
      { ...parsed.data, key: key.current },
      {
        onSuccess: (record) => router.push(paths.permit(record.id)),
        // A refused request did nothing: the next one is a new request.
        onError: () => {
          key.current = newKey();
        },
      },
    );
  };

  const refused = problemOf(create.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const text = (name: keyof typeof EMPTY, label: string, more: Record<string, unknown> = {}) => (
    <TextInput
      id={fieldId(name === 'holder' ? 'holder.name' : name)}
      label={label}
      value={fields[name]}
      error={problems.find(({ path }) => path === name || path.startsWith(`${name}.`))?.message}
      onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
      {...more}
    />
  );
  return (
    <form onSubmit={submit} noValidate>
      <ListHead
        title={say('Enter a permit')}
        intro={say('Copy it from the document; the words of each clause stay beside it.')}
      />
      <div className={classes.form}>
        <ErrorSummary
          problems={problems}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : refused.title}
        />
        {create.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
        <div className={classes.row}>
          {text('number', say('Number'), { required: true })}
          {text('authority', say('Issuing authority'), { required: true })}
          <NativeSelect
            id={fieldId('kind')}
            label={say('Kind')}
            data={permitKinds.map((value) => ({ value, label: KIND_WORDS[value] }))}
            value={fields.kind}
            onChange={(event) =>
              setFields({ ...fields, kind: event.currentTarget.value as (typeof permitKinds)[number] })
            }
          />
          {text('jurisdiction', say('Jurisdiction'), { placeholder: say('US or US-OH'), required: true })}
          {text('effectiveOn', say('In force from'), { type: 'date', required: true })}
          {text('expiresOn', say('Until (empty: no end named)'), { type: 'date' })}
          {text('holder', say('Holder'), { required: true })}
        </div>
        <h2>{say('Who may act')}</h2>
        <PeopleEditor people={people} fromOn={fields.effectiveOn} problems={problems} onChange={setPeople} />
        <h2>{say('Clauses')}</h2>
        <Proposals
          defaults={defaults.filter(
            ({ kinds, clauses: some }) => kinds.includes(fields.kind) && some.length > 0,
          )}
          onTake={(some) =>
            setClauses([...clauses, ...some.clauses.map((clause) => toDraft(clause, newKey()))])
          }
        />
        <ClauseEditor drafts={clauses} problems={problems} onChange={setClauses} />
        <div>
          <Button type="submit" loading={create.isPending}>
            {say('Save the permit')}
          </Button>
        </div>
      </div>
      <LegalCaution />
    </form>
  );
}

/** Clauses the rule packs know for this kind of permit; the document has the last word. */
function Proposals({
  defaults,
  onTake,
}: {
  defaults: readonly PermitDefault[];
  onTake: (some: PermitDefault) => void;
}) {
  return defaults.map((some) => (
    <div key={some.id} className={classes.rule}>
      <p>
        {some.text} <span className={classes.over}>{some.cite}</span>
      </p>
      <div>
        <Button variant="default" size="sm" onClick={() => onTake(some)}>
          {say('Begin with this')}
        </Button>
      </div>
    </div>
  ));
}
