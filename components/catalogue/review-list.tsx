'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import type { ReviewRow } from '@/lib/catalogue/wire';
import type { PageQuery } from '@/lib/platform/paging';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { reviewListOptions } from './review-queries';

const COLUMNS = phrases([
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
]);

function Points({ row }: { row: ReviewRow }) {
  const others = row.blocks + row.notes - 1;
  return (
    <>
      {row.own ? (
        <StateBadge tone="attention">{say('Your own work: another curator decides')}</StateBadge>
      ) : null}
      {row.returnedBefore ? <StateBadge tone="lead">{say('Comes again after a return')}</StateBadge> : null}
      {row.blocks > 0 ? (
        <StateBadge tone="stop">{say('{of} in the way', { of: countOf(row.blocks, 'point') })}</StateBadge>
      ) : (
        <StateBadge tone="settled">{say('Nothing in the way')}</StateBadge>
      )}
      {row.firstPoint === null ? null : (
        <div>
          {row.firstPoint}
          {others > 0 ? say(' And {others} more.', { others }) : ''}
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
        title={say('Review desk')}
        lede={
          waiting === 0
            ? say('Nothing waits for a decision.')
            : say('{of} {x} for a decision. The longest waiting stands first: press Enter to open it.', {
                of: countOf(waiting, 'record'),
                x: waiting === 1 ? say('waits') : say('wait'),
              })
        }
      />
      <DataList
        label={say('Records in review')}
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.reviewRecord(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={say('Nothing to review')}>
            <p>{say('Records come here when the bench sends them to review.')}</p>
          </EmptyState>
        }
      />
    </>
  );
}
