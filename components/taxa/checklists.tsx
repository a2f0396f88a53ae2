'use client';

import { Button, FileInput, Progress, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { type ChecklistRow, checklistUpload } from '@/lib/taxa/schema';
import { checklistsOptions, useHandInChecklist } from './queries';

/** The editions of checklists side by side, and the form that loads another. */
export function Checklists() {
  const list = useQuery(checklistsOptions());
  return (
    <>
      <ListHead
        title={say('Checklists')}
        intro={say('One edition is current; the others stay for comparison.')}
      />
      <DataList<ChecklistRow>
        label={say('Checklists')}
        columns={[
          { id: 'name', head: say('Checklist'), cell: (row) => `${row.name}, ${row.edition}` },
          { id: 'state', head: say('State'), cell: (row) => <EditionState row={row} /> },
          {
            id: 'names',
            head: say('Names'),
            numeric: true,
            cell: (row) => sayNumber(row.rowsRead),
          },
          {
            id: 'loaded',
            head: say('Loaded'),
            deskOnly: true,
            cell: (row) => <Moment at={row.importedAt} />,
          },
          { id: 'credit', head: say('Credit'), deskOnly: true, cell: (row) => row.credit },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={list.data?.mayManage ? (row) => paths.checklist(row.id) : undefined}
        error={list.error}
        onRetry={() => void list.refetch()}
        empty={
          <EmptyState title={say('No checklist yet')}>
            <p>{say('Load the list that your institution follows.')}</p>
          </EmptyState>
        }
      />
      {list.data?.mayManage ? (
        <Section
          id="load"
          title={say('Load a checklist')}
          note={say(
            'CSV or tab-separated text in UTF-8 with the columns of Darwin Core Taxon (scientificName, taxonRank, family, vernacularName, taxonomicStatus, acceptedNameUsage …) or those of the AviList table.',
          )}
        >
          <LoadForm />
        </Section>
      ) : null}
    </>
  );
}

export function EditionState({ row }: { row: ChecklistRow }) {
  if (row.state === 'reading')
    return (
      <>
        <StateBadge>{say('Being read')}</StateBadge>
        <Progress value={row.progress * 100} aria-label={say('Read of {name}', { name: row.name })} mt={4} />
      </>
    );
  if (row.state === 'failed')
    return <StateBadge tone="stop">{row.failure ?? say('Not readable')}</StateBadge>;
  return row.current ? (
    <StateBadge tone="settled">{say('Current')}</StateBadge>
  ) : (
    <StateBadge>
      {row.rowsLeftOut === 0
        ? say('Ready')
        : say('Ready, {of} left out', { of: countOf(row.rowsLeftOut, 'row') })}
    </StateBadge>
  );
}

function LoadForm() {
  const load = useHandInChecklist();
  const [file, setFile] = useState<File | null>(null);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const words = { ...Object.fromEntries(new FormData(form)), fileName: file?.name };
    const parsed = checklistUpload.safeParse(words);
    if (!parsed.success || file === null) {
      const issues = parsed.success ? [] : parsed.error.issues;
      setLocal([
        ...(file === null ? [{ path: 'file', message: say('Choose a file.') }] : []),
        ...issues
          .filter((issue) => issue.path[0] !== 'fileName')
          .map(({ path, message }) => ({ path: path.join('.'), message })),
      ]);
      return;
    }
    setLocal([]);
    load.mutate(
      { ...parsed.data, file },
      {
        onSuccess: () => {
          form.reset();
          setFile(null);
        },
      },
    );
  };
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={520}>
        <ErrorSummary problems={local} />
        {load.error === null ? null : <p role="alert">{problemOf(load.error).title}</p>}
        <FileInput
          id={fieldId('file')}
          label={say('File')}
          placeholder={say('Choose a file')}
          accept=".csv,.tsv,.txt,text/csv"
          value={file}
          onChange={setFile}
          clearable
        />
        <TextInput id={fieldId('name')} name="name" label={say('Name of the checklist')} required />
        <TextInput id={fieldId('edition')} name="edition" label={say('Edition')} required />
        <TextInput
          id={fieldId('credit')}
          name="credit"
          label={say('Who made it, under which licence')}
          required
        />
        <div>
          <Button type="submit" loading={load.isPending}>
            {say('Load the checklist')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
