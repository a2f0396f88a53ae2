'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import type { BenchListQuery, BenchRow, BenchDesk as Desk } from '@/lib/bench/wire-desk';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { BenchClocks } from './bench-clocks';
import classes from './bench-desk.module.css';
import { benchDeskOptions, benchListOptions, useStartRecord } from './desk-queries';
import { STATE_TONES, STATE_WORDS } from './record-words';

/** What one person has to do next at the bench, and everybody's records below. */
export function BenchDesk({ query, meId }: { query: BenchListQuery; meId: string }) {
  const desk = useQuery(benchDeskOptions());
  const own = desk.data?.records ?? [];
  const returned = own.filter(({ state }) => state === 'returned').length;
  const mine = desk.data?.claimed.filter(({ claimedBy }) => claimedBy.id === meId).length ?? 0;
  return (
    <>
      <DeskHead
        title={say('Bench')}
        lede={ledeOf(returned, own.filter(({ state }) => state === 'draft').length, mine)}
        acts={
          <Button component={Link} href={paths.benchLab} variant="default">
            {say('Styles, scales and clocks')}
          </Button>
        }
        figures={[
          { id: 'returned', label: say('Returned'), value: returned, note: say('wait for an answer') },
          { id: 'draft', label: say('Drafts'), value: own.filter(({ state }) => state === 'draft').length },
          {
            id: 'review',
            label: say('In review'),
            value: own.filter(({ state }) => state === 'in-review').length,
          },
          { id: 'ready', label: say('Birds you took'), value: mine, note: say('no record yet') },
        ]}
      />
      {desk.error ? (
        <ErrorState
          what={say('The bench could not be loaded.')}
          error={desk.error}
          onRetry={() => void desk.refetch()}
        />
      ) : desk.data === undefined ? (
        <Loading what={say('Loading the bench')} lines={6} />
      ) : (
        <Piles desk={desk.data} />
      )}
      <AllRecords query={query} meId={meId} />
    </>
  );
}

function ledeOf(returned: number, drafts: number, ready: number): string {
  if (returned > 0)
    return say('{of} came back with remarks: look at them first.', { of: countOf(returned, 'record') });
  if (drafts > 0) return say('{of} of yours wait to be finished.', { of: countOf(drafts, 'record') });
  if (ready > 0) return say('{of} of yours can come to the bench.', { of: countOf(ready, 'bird') });
  return say('Nothing of yours waits at the bench. Take a bird from the queue.');
}

function Piles({ desk }: { desk: Desk }) {
  return (
    <>
      <Section id="records" title={say('My records')}>
        <DataList
          label={say('My records')}
          columns={COLUMNS}
          rows={desk.records}
          rowId={(row) => row.id}
          rowHref={(row) => paths.benchRecord(row.id)}
          empty={<EmptyState title={say('No record of yours is open')} />}
        />
      </Section>
      <Section
        id="claimed"
        title={say('Birds taken')}
        note={say('A record begins when the bird comes to the bench.')}
      >
        <Claimed claimed={desk.claimed} />
      </Section>
      <Section id="clocks" title={say('Clocks')} note={say('Birds out of the freezer and not finished.')}>
        {desk.clocks.length === 0 ? (
          <EmptyState title={say('No bird is out of the freezer')} />
        ) : (
          <ul className={classes.clocks}>
            {desk.clocks.map((clock) => (
              <li key={clock.birdId}>
                <p className={classes.bird}>
                  <Link href={clock.recordId ? paths.benchRecord(clock.recordId) : paths.bird(clock.birdId)}>
                    {clock.number}
                  </Link>{' '}
                  <TaxonName scientific={clock.scientificName} common={clock.commonName} />
                  {clock.by && <span className={classes.who}>{clock.by.name}</span>}
                </p>
                <BenchClocks times={clock.times} settings={desk.clockSettings} />
              </li>
            ))}
          </ul>
        )}
      </Section>
    </>
  );
}

function Claimed({ claimed }: { claimed: Desk['claimed'] }) {
  const start = useStartRecord();
  const router = useRouter();
  if (claimed.length === 0) {
    return (
      <EmptyState title={say('No bird waits for its record')}>
        <p>
          {sayWith('{link}; it then appears here.', {
            link: <Link href={paths.queue}>{say('Take a bird from the queue')}</Link>,
          })}
        </p>
      </EmptyState>
    );
  }
  return (
    <>
      {start.error && (
        <p role="alert" className={classes.problem}>
          {problemOf(start.error).title}
        </p>
      )}
      <DataList
        label={say('Birds taken')}
        columns={[
          {
            id: 'bird',
            head: say('Bird'),
            cell: (bird) => (
              <>
                {bird.number} <TaxonName scientific={bird.scientificName} common={bird.commonName} />
              </>
            ),
          },
          { id: 'who', head: say('Taken by'), cell: (bird) => bird.claimedBy.name },
          {
            id: 'thaw',
            head: say('Out of the freezer'),
            cell: (bird) =>
              bird.thawStartedAt === null ? say('not yet') : <Moment at={bird.thawStartedAt} show="both" />,
          },
          {
            id: 'until',
            head: say('Taken until'),
            deskOnly: true,
            cell: (bird) => (bird.claimExpiresAt === null ? '' : <Moment at={bird.claimExpiresAt} />),
          },
          {
            id: 'start',
            head: say('Begin'),
            cell: (bird) =>
              bird.mayStart ? (
                <Button
                  loading={start.isPending && start.variables === bird.birdId}
                  onClick={() =>
                    start.mutate(bird.birdId, { onSuccess: ({ id }) => router.push(paths.benchRecord(id)) })
                  }
                >
                  {say('Start its record')}
                </Button>
              ) : null,
          },
        ]}
        rows={claimed}
        rowId={(bird) => bird.birdId}
      />
    </>
  );
}

const COLUMNS = phrases([
  {
    id: 'bird',
    head: 'Bird',
    cell: (row: BenchRow) => (
      <>
        {row.number} <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  {
    id: 'state',
    head: 'State',
    cell: (row: BenchRow) => (
      <StateBadge tone={STATE_TONES[row.state]}>
        {STATE_WORDS[row.state]}
        {row.openRemarks > 0 && ` (${row.openRemarks})`}
      </StateBadge>
    ),
  },
  {
    id: 'style',
    head: 'Becomes',
    deskOnly: true,
    cell: (row: BenchRow) => sayWord(row.styleId),
  },
  {
    id: 'who',
    head: 'Who',
    cell: (row: BenchRow) => [row.preparator.name, row.scribe?.name].filter(Boolean).join(', '),
  },
  { id: 'prep', head: 'Preparation', deskOnly: true, cell: (row: BenchRow) => row.prepNumber },
  { id: 'started', head: 'Begun', cell: (row: BenchRow) => <Moment at={row.startedAt} /> },
]);

const SHOWN = phrases([
  { value: 'draft,returned,in-review', label: 'open' },
  { value: 'draft', label: 'drafts' },
  { value: 'returned', label: 'returned' },
  { value: 'in-review', label: 'in review' },
  { value: 'approved', label: 'approved' },
]);

function AllRecords({ query, meId }: { query: BenchListQuery; meId: string }) {
  const address = useListAddress();
  const list = useQuery(benchListOptions(query));
  return (
    <Section id="all" title={say('All records')}>
      <div className={classes.facets}>
        <TextInput
          label={say('Number or taxon')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('State')}
          data={SHOWN}
          value={query.states.join(',')}
          onChange={(event) => address.filter({ states: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Whose')}
          data={[
            { value: '', label: say('everybody’s') },
            { value: meId, label: say('mine') },
          ]}
          value={query.workerId ?? ''}
          onChange={(event) => address.filter({ workerId: event.currentTarget.value })}
        />
      </div>
      <DataList
        label={say('All records')}
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.benchRecord(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={<EmptyState title={say('No record like this')} />}
      />
    </Section>
  );
}
