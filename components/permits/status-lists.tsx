'use client';

import { Button, FileInput, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useRef, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { importListRequest, type StatusListRow } from '@/lib/permits/wire';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import classes from './permits.module.css';
import { listsOptions, useImportList } from './queries';

/** Imported lists of birds, the names nobody could join to the checklist, and the lists that rules ask for in vain. */
export function StatusLists() {
  const lists = useQuery(listsOptions());
  const [importing, setImporting] = useState(false);
  const missing = lists.data?.missing ?? [];
  return (
    <Section
      id="lists"
      title={say('Lists of protected birds')}
      note={say('Each comes in by import, with its source, edition and date.')}
      acts={
        lists.data?.abilities.manage && !importing ? (
          <Button variant="default" onClick={() => setImporting(true)}>
            {say('Import a list')}
          </Button>
        ) : null
      }
    >
      {missing.map(({ listId, askedBy }) => (
        <p key={listId}>
          <StateBadge tone="attention">{say('{listId} is not imported', { listId })}</StateBadge> {askedBy}
          {say(' asks for it; without it every bird needs a look by hand.')}
        </p>
      ))}
      {importing ? <ImportForm listId={missing[0]?.listId ?? ''} onDone={() => setImporting(false)} /> : null}
      <DataList<StatusListRow>
        label={say('Imported lists')}
        columns={[
          {
            id: 'title',
            head: say('List'),
            cell: (row) => (
              <>
                {row.title} ({row.listId})
                <div className={classes.source}>{[row.source, row.credit].filter(Boolean).join('; ')}</div>
              </>
            ),
          },
          { id: 'edition', head: say('Edition'), cell: (row) => `${row.edition}, ${sayDay(row.editionOn)}` },
          {
            id: 'effect',
            head: say('Its birds'),
            cell: (row) => (row.effect === 'protects' ? say('are protected') : say('are asked for by rules')),
          },
          { id: 'names', head: say('Names'), numeric: true, cell: (row) => row.names },
          { id: 'unresolved', head: say('Unmatched'), numeric: true, cell: (row) => row.unresolved.length },
          {
            id: 'state',
            head: say('Now'),
            cell: (row) => (
              <StateBadge tone={row.current ? 'settled' : 'neutral'}>
                {row.current ? say('In use') : say('Older edition')}
              </StateBadge>
            ),
          },
        ]}
        rows={lists.data?.rows}
        rowId={(row) => row.id}
        error={lists.error}
        onRetry={() => void lists.refetch()}
        empty={<EmptyState title={say('No list is imported yet')} />}
      />
      {lists.data?.rows
        .filter(({ current, unresolved }) => current && unresolved.length > 0)
        .map((row) => (
          <Unmatched key={row.id} row={row} />
        ))}
    </Section>
  );
}

/** Listed names that match no name of the checklist: a person looks at each once. */
function Unmatched({ row }: { row: StatusListRow }) {
  return (
    <details>
      <summary>
        {say('{of} of {listId} that match nothing in the checklist', {
          of: countOf(row.unresolved.length, 'name'),
          listId: row.listId,
        })}
      </summary>
      <ul className={classes.unresolved}>
        {row.unresolved.map(({ name, englishName }) => (
          <li key={name}>
            <i translate="no">{name}</i>
            {englishName === null ? '' : `, ${englishName}`}
          </li>
        ))}
      </ul>
    </details>
  );
}

const FIELDS = phrases([
  { name: 'listId', label: 'Id that rules ask for', placeholder: 'us-10.13' },
  { name: 'title', label: 'Title' },
  { name: 'jurisdiction', label: 'Jurisdiction', placeholder: 'US' },
  { name: 'source', label: 'Source' },
  { name: 'edition', label: 'Edition' },
  { name: 'editionOn', label: 'Date of the edition', type: 'date' },
  { name: 'credit', label: 'Licence and credit (if any)' },
] as const);

function ImportForm({ listId, onDone }: { listId: string; onDone: () => void }) {
  const load = useImportList();
  const [file, setFile] = useState<File | null>(null);
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    attempt.current += 1;
    const form = Object.fromEntries(new FormData(event.currentTarget));
    const parsed = importListRequest.safeParse({
      ...form,
      credit: form.credit || null,
      csv: file === null ? '' : await file.text(),
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    load.mutate(parsed.data);
  };
  const refused = problemOf(load.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const errorOf = (name: string) => problems.find(({ path }) => path === name)?.message;
  if (load.data !== undefined) return <Imported answer={load.data} onDone={onDone} />;
  return (
    <form onSubmit={(event) => void submit(event)} noValidate className={classes.form}>
      <ErrorSummary
        problems={problems}
        attempt={attempt.current}
        title={local.length > 0 ? undefined : refused.title}
      />
      {load.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
      <div className={classes.row}>
        {FIELDS.map(({ name, label, ...more }) => (
          <TextInput
            key={name}
            id={fieldId(name)}
            name={name}
            label={label}
            defaultValue={name === 'listId' ? listId : ''}
            error={errorOf(name)}
            {...more}
          />
        ))}
        <NativeSelect
          name="effect"
          label={say('Its birds')}
          data={[
            { value: 'protects', label: say('are protected') },
            { value: 'flags', label: say('are asked for by rules') },
          ]}
        />
        <FileInput
          id={fieldId('csv')}
          label={say('File (CSV)')}
          description={say('Needs the column scientific_name_listed; english_name helps.')}
          accept="text/csv,.csv"
          value={file}
          onChange={setFile}
          error={errorOf('csv')}
          clearable
        />
      </div>
      <div>
        <Button type="submit" loading={load.isPending} mr="sm">
          {say('Import it')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </div>
    </form>
  );
}

function Imported({
  answer: { list, errors },
  onDone,
}: {
  answer: { list: StatusListRow; errors: { line: number; message: string }[] };
  onDone: () => void;
}) {
  return (
    <div role="status" className={classes.form}>
      <p>
        {say(
          '{of} of {listId} came in; {length} match nothing in the checklist, {of2} could not be read. Verdicts are being checked again.',
          {
            of: countOf(list.names, 'name'),
            listId: list.listId,
            length: list.unresolved.length,
            of2: countOf(errors.length, 'row'),
          },
        )}
      </p>
      {errors.length > 0 ? (
        <ul>
          {errors.map(({ line, message }) => (
            <li key={line}>{say('Line {line}: {message}', { line, message })}</li>
          ))}
        </ul>
      ) : null}
      <div>
        <Button variant="default" onClick={onDone}>
          {say('Done')}
        </Button>
      </div>
    </div>
  );
}
