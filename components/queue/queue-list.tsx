'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { PREPARATION_STYLES, SIZE_CLASSES } from '@/lib/queue/schema';
import type { QueueListQuery, QueueRow } from '@/lib/queue/wire';
import { BirdActs } from './bird-acts';
import { PriorityBar } from './priority-bar';
import { queueListOptions } from './queries';

const VIEWS = phrases([
  { value: 'queued', label: 'Waiting' },
  { value: 'claimed,thawing,on-the-bench', label: 'Taken' },
  { value: 'in-custody,in-freezer', label: 'Not queued yet' },
] as const);

/** Birds awaiting preparation, the next one first, each with why. */
export function QueueList({ query, mayPlan }: { query: QueueListQuery; mayPlan: boolean }) {
  const address = useListAddress();
  const list = useQuery(queueListOptions(query));
  const view = query.states.join(',');
  return (
    <>
      <ListHead
        title={say('Queue')}
        intro={say('The bird to take next stands first. Open its figure to see why.')}
        acts={
          <>
            {mayPlan ? (
              <Button component={Link} href={paths.dayPlan} variant="default">
                {say('Day plan')}
              </Button>
            ) : null}
            {mayPlan ? (
              <Button component={Link} href={paths.forecast} variant="default">
                {say('Forecast')}
              </Button>
            ) : null}
            <Button component={Link} href={paths.skills} variant="default">
              {say('Skills')}
            </Button>
            <Button component={Link} href={paths.queueSettings} variant="default">
              {say('Settings')}
            </Button>
          </>
        }
      >
        <NativeSelect
          label={say('Show')}
          data={VIEWS.map(({ value, label }) => ({ value, label }))}
          value={VIEWS.some(({ value }) => value === view) ? view : 'queued'}
          onChange={(event) => address.filter({ states: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Style')}
          data={[
            { value: '', label: say('Any') },
            ...PREPARATION_STYLES.map((value) => ({ value, label: sayWord(value) })),
          ]}
          value={query.style ?? ''}
          onChange={(event) => address.filter({ style: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Size')}
          data={[
            { value: '', label: say('Any') },
            ...SIZE_CLASSES.map((value) => ({ value, label: sayWord(value) })),
          ]}
          value={query.sizeClass ?? ''}
          onChange={(event) => address.filter({ size: null, sizeClass: event.currentTarget.value })}
        />
        <TextInput
          label={say('Number or name')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<QueueRow>
        label={say('Birds awaiting preparation')}
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.bird(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={say('No bird waits here')}>
            <p>
              {say(
                'Accessioned birds come into the queue when somebody at the bench chooses their preparation.',
              )}
            </p>
          </EmptyState>
        }
      />
    </>
  );
}

const COLUMNS = phrases([
  {
    id: 'bird',
    head: 'Bird',
    cell: (row: QueueRow) => (
      <>
        {row.number}
        <br />
        <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  {
    id: 'priority',
    head: 'Priority',
    cell: (row: QueueRow) => <PriorityBar priority={row.priority} parts={row.parts} />,
  },
  {
    id: 'work',
    head: 'Preparation',
    cell: (row: QueueRow) => (
      <>
        {row.style === null ? say('not chosen') : sayWord(row.style)}, {sayWord(row.sizeClass).toLowerCase()}
        {row.request === null ? null : (
          <>
            <br />
            <StateBadge tone="attention">{say('Asked for: {request}', { request: row.request })}</StateBadge>
          </>
        )}
        {row.holds.map((hold) => (
          <span key={hold.reason}>
            <br />
            <StateBadge tone="stop">{say('On hold: {reason}', { reason: hold.reason })}</StateBadge>
            <br />
            {say('Lifted by: ')}
            {hold.liftedBy.map((role) => sayWord(role).toLowerCase()).join(say(' or '))}
          </span>
        ))}
      </>
    ),
  },
  { id: 'place', head: 'Where it lies', cell: (row: QueueRow) => row.place ?? say('no place noted') },
  {
    id: 'since',
    head: 'Frozen',
    deskOnly: true,
    cell: (row: QueueRow) =>
      row.frozenAt === null ? say('not frozen') : <Moment at={row.frozenAt} show="day" />,
  },
  { id: 'acts', head: 'Whose', cell: (row: QueueRow) => <BirdActs bird={row} /> },
]);
