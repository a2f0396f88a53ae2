'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { countOf, sayWord } from '@/components/ui/words';
import type { ReviewRow } from '@/lib/catalogue/wire';
import type { PageQuery } from '@/lib/platform/paging';
import { paths } from '@/lib/platform/paths';
import { reviewListOptions } from './queries';

const COLUMNS = [
  {
    id: 'bird',
    head: 'Bird',
    cell: (row: ReviewRow) => (
      <>
        {row.number}
        <br />
        <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  {
    id: 'work',
    head: 'Prepared',
    cell: (row: ReviewRow) => (
      <>
        {sayWord(row.styleId)}
        <br />
        {row.preparator}, {row.prepNumber}
      </>
    ),
  },
  {
    id: 'sent',
    head: 'Sent to review',
    cell: (row: ReviewRow) => (row.sentAt === null ? '' : <Moment at={row.sentAt} />),
  },
  { id: 'points', head: 'What to look at', cell: (row: ReviewRow) => <Points row={row} /> },
];

function Points({ row }: { row: ReviewRow }) {
  const others = row.blocks + row.notes - 1;
  return (
    <>
      {row.own ? <StateBadge tone="attention">Your own work: another curator decides</StateBadge> : null}
      {row.returnedBefore ? <StateBadge tone="lead">Comes again after a return</StateBadge> : null}
      {row.blocks > 0 ? (
        <StateBadge tone="stop">{countOf(row.blocks, 'point')} in the way</StateBadge>
      ) : (
        <StateBadge tone="settled">Nothing in the way</StateBadge>
      )}
      {row.firstPoint === null ? null : (
        <div>
          {row.firstPoint}
          {others > 0 ? ` And ${others} more.` : ''}
        </div>
      )}
    </>
  );
}

/** The curator's desk: records that wait for a decision, the longest waiting first. */
export function ReviewList({ query }: { query: PageQuery }) {
  const address = useListAddress();
  const list = useQuery(reviewListOptions(query));
  const waiting = list.data?.total ?? 0;
  return (
    <>
      <DeskHead
        title="Review desk"
        lede={
          waiting === 0
            ? 'Nothing waits for a decision.'
            : `${countOf(waiting, 'record')} ${waiting === 1 ? 'waits' : 'wait'} for a decision. The longest waiting stands first: press Enter to open it.`
        }
      />
      <DataList
        label="Records in review"
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.reviewRecord(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title="Nothing to review">
            <p>Records come here when the bench sends them to review.</p>
          </EmptyState>
        }
      />
    </>
  );
}
