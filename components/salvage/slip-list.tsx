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
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import type { SlipRow } from '@/lib/salvage/wire';
import { slipsOptions, useEndSlip, useMakeSlip } from './queries';
import classes from './salvage.module.css';

/** Slips with a printed code, for finders without an account: made here, printed, ended. */
export function SlipList({ query }: { query: { size: number; after?: string } }) {
  const address = useListAddress();
  const list = useQuery(slipsOptions(query));
  const end = useEndSlip();
  return (
    <>
      <ListHead
        title="Drop-off slips"
        intro="Hang one at the freezer: its code opens a short form on a finder’s phone. What they send waits in triage; they see nothing of the collection."
      />
      <MakeForm />
      {end.error === null ? null : <p role="alert">{problemOf(end.error).title}</p>}
      <DataList<SlipRow>
        label="Drop-off slips"
        columns={[
          { id: 'label', head: 'Where it hangs', cell: (row) => row.label },
          { id: 'made', head: 'Made', cell: (row) => <Moment at={row.createdAt} /> },
          { id: 'reports', head: 'Reports', numeric: true, cell: (row) => row.reports },
          {
            id: 'used',
            head: 'Last used',
            cell: (row) => (row.lastUsedAt === null ? 'never' : <Moment at={row.lastUsedAt} />),
          },
          {
            id: 'state',
            head: 'Now',
            cell: (row) =>
              row.revokedAt === null ? (
                <StateBadge tone="settled">Good</StateBadge>
              ) : (
                <StateBadge>Ended</StateBadge>
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
        empty={<EmptyState title="No slip yet" />}
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
        Print
      </Button>
      <ConfirmInline
        act="End it"
        question="Its code opens nothing any more. Reports that came through it stay."
        confirm="End this slip"
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
        label="Where will it hang?"
        required
        maxLength={40}
        value={label}
        error={problem.fields?.[0]?.message ?? problem.title}
        onChange={(event) => setLabel(event.currentTarget.value)}
      />
      {make.data === undefined ? null : (
        <p role="status">
          Made. <a href={`/api/salvage/slips/${make.data.id}/label`}>Print it</a>, or open{' '}
          <a href={make.data.path}>the form behind its code</a>.
        </p>
      )}
      <div>
        <Button type="submit" loading={make.isPending}>
          Make a slip
        </Button>
      </div>
    </form>
  );
}
