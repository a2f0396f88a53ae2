'use client';

import { Button, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { LegalCaution } from '@/components/permits/legal-caution';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import { say } from '@/lib/platform/words/say';
import type { SlipRow } from '@/lib/salvage/wire-slip';
import classes from './salvage.module.css';
import { slipsOptions, useEndSlip, useMakeSlip } from './slip-queries';

/** Slips with a printed code, for finders without an account: made here, printed, ended. */
export function SlipList({ query }: { query: { size: number; after?: string } }) {
  const address = useListAddress();
  const list = useQuery(slipsOptions(query));
  const end = useEndSlip();
  return (
    <>
      <ListHead
        title={say('Drop-off slips')}
        intro={say(
          'Hang one at the freezer: its code opens a short form on a finder’s phone. What they send waits in triage; they see nothing of the collection.',
        )}
      />
      <MakeForm />
      {end.error === null ? null : <p role="alert">{problemOf(end.error).title}</p>}
      <DataList<SlipRow>
        label={say('Drop-off slips')}
        columns={[
          { id: 'label', head: say('Where it hangs'), cell: (row) => row.label },
          { id: 'made', head: say('Made'), cell: (row) => <Moment at={row.createdAt} /> },
          { id: 'reports', head: say('Reports'), numeric: true, cell: (row) => row.reports },
          {
            id: 'used',
            head: say('Last used'),
            cell: (row) => (row.lastUsedAt === null ? say('never') : <Moment at={row.lastUsedAt} />),
          },
          {
            id: 'state',
            head: say('Now'),
            cell: (row) =>
              row.revokedAt === null ? (
                <StateBadge tone="settled">{say('Good')}</StateBadge>
              ) : (
                <StateBadge>{say('Ended')}</StateBadge>
              ),
          },
          {
            id: 'acts',
            head: '',
            cell: (row) =>
              row.revokedAt === null ? <SlipActs row={row} onEnd={() => end.mutateAsync(row.id)} /> : null,
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={<EmptyState title={say('No slip yet')} />}
      />
      <LegalCaution />
    </>
  );
}

function SlipActs({ row, onEnd }: { row: SlipRow; onEnd: () => Promise<unknown> }) {
  return (
    <>
      <Button
        component="a"
        href={`/api/salvage/slips/${row.id}/label`}
        target="_blank"
        variant="default"
        mr="xs"
      >
        {say('Print')}
      </Button>
      <ConfirmInline
        act={say('End it')}
        question={say('Its code opens nothing any more. Reports that came through it stay.')}
        confirm={say('End this slip')}
        onConfirm={onEnd}
      />
    </>
  );
}

function MakeForm() {
  const make = useMakeSlip();
  const [label, setLabel] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    make.mutate(label, { onSuccess: () => setLabel('') });
  };
  const problem = problemOf(make.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      <TextInput
        label={say('Where will it hang?')}
        required
        maxLength={40}
        value={label}
        error={problem.fields?.[0]?.message ?? problem.title}
        onChange={(event) => setLabel(event.currentTarget.value)}
      />
      {make.data === undefined ? null : (
        <p role="status">
          {sayWith('Made. {a}, or open {a2}.', {
            a: <a href={`/api/salvage/slips/${make.data.id}/label`}>{say('Print it')}</a>,
            a2: <a href={make.data.path}>{say('the form behind its code')}</a>,
          })}
        </p>
      )}
      <div>
        <Button type="submit" loading={make.isPending}>
          {say('Make a slip')}
        </Button>
      </div>
    </form>
  );
}
