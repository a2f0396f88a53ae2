'use client';

import { Button, FileInput, Group } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import type { ImportRow, ImportState } from '@/lib/exchange/schema';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import { importsOptions, useHandInSheet } from './queries';

export function ImportStateBadge({ state }: { state: ImportState }) {
  const tone =
    state === 'done'
      ? 'settled'
      : state === 'failed'
        ? 'stop'
        : state === 'checked' || state === 'uploaded'
          ? 'attention'
          : 'neutral';
  return <StateBadge tone={tone}>{sayWord(state)}</StateBadge>;
}

/** Imports, newest first, and the form that begins another. */
export function ImportList() {
  const router = useRouter();
  const [after, setAfter] = useState<string[]>([]);
  const list = useQuery(importsOptions(after.at(-1)));
  const handIn = useHandInSheet();
  const [file, setFile] = useState<File | null>(null);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (file === null) return;
    handIn.mutate(file, { onSuccess: (made) => router.push(paths.importRun(made.id)) });
  };
  const next = list.data?.next ?? null;
  return (
    <>
      <form onSubmit={submit}>
        {handIn.error === null ? null : <p role="alert">{problemOf(handIn.error).title}</p>}
        <Group align="end" mb="md">
          <FileInput
            label={say('Sheet')}
            placeholder={say('Choose a CSV or XLSX file')}
            accept=".csv,.tsv,.txt,.xlsx"
            value={file}
            onChange={setFile}
            miw={280}
            clearable
          />
          <Button type="submit" disabled={file === null} loading={handIn.isPending}>
            {say('Read the sheet')}
          </Button>
        </Group>
      </form>
      <DataList<ImportRow>
        label={say('Imports')}
        columns={[
          { id: 'file', head: say('File'), cell: (row) => row.fileName },
          { id: 'state', head: say('State'), cell: (row) => <ImportStateBadge state={row.state} /> },
          { id: 'rows', head: say('Rows'), numeric: true, cell: (row) => row.rowsTotal },
          { id: 'failed', head: say('Not taken'), numeric: true, cell: (row) => row.rowsFailed },
          { id: 'who', head: say('Begun by'), deskOnly: true, cell: (row) => row.startedBy },
          { id: 'when', head: say('Begun'), cell: (row) => <Moment at={row.createdAt} /> },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.importRun(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={{
          size: 20,
          onNext: next === null ? undefined : () => setAfter([...after, next]),
          onPrevious: after.length === 0 ? undefined : () => setAfter(after.slice(0, -1)),
        }}
        empty={<EmptyState title={say('Nothing was imported yet')} />}
      />
    </>
  );
}
