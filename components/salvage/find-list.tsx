'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { LegalCaution } from '@/components/permits/legal-caution';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { holdKinds } from '@/lib/permits/schema';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { coverageWords, salvageStates } from '@/lib/salvage/schema';
import type { SalvageRow } from '@/lib/salvage/wire';
import type { SalvageListQuery, SalvagePage } from '@/lib/salvage/wire-list';
import { findListOptions } from './list-queries';
import { OutboxPanel } from './outbox-panel';
import { COVERAGE_TONES, STATE_TONES } from './words';

/** Found birds: what waits in triage first and longest, then what is settled. */
export function FindList({
  query,
  may,
  personId,
}: {
  query: SalvageListQuery;
  may: { log: boolean; slips: boolean };
  personId: string;
}) {
  const address = useListAddress();
  const list = useQuery(findListOptions(query));
  const counts = list.data?.counts;
  const logLink = may.log ? (
    <Button component={Link} href={paths.salvageNew}>
      {say('Log a found bird')}
    </Button>
  ) : null;
  return (
    <>
      <ListHead
        title={say('Salvage')}
        intro={counts === undefined ? undefined : sayWaiting(counts)}
        acts={
          <>
            {logLink}
            {may.slips ? (
              <Button component={Link} href={paths.slips} variant="default">
                {say('Drop-off slips')}
              </Button>
            ) : null}
          </>
        }
      >
        <NativeSelect
          label={say('State')}
          data={[
            { value: '', label: say('All') },
            { value: 'waiting', label: say('Waiting in triage') },
            ...salvageStates.map((value) => ({
              value,
              label: counts === undefined ? sayWord(value) : `${sayWord(value)} (${counts[value]})`,
            })),
          ]}
          value={query.state ?? ''}
          onChange={(event) => address.filter({ state: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Coverage')}
          data={[
            { value: '', label: say('Any') },
            ...coverageWords.map((value) => ({ value, label: sayWord(value) })),
          ]}
          value={query.coverage ?? ''}
          onChange={(event) => address.filter({ coverage: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Hold')}
          data={[
            { value: '', label: say('With or without') },
            { value: 'any', label: say('On any hold') },
            ...holdKinds.map((value) => ({ value, label: sayWord(value) })),
          ]}
          value={query.hold ?? ''}
          onChange={(event) => address.filter({ hold: event.currentTarget.value })}
        />
        <TextInput
          label={say('County')}
          defaultValue={query.county ?? ''}
          onChange={(event) => address.filter({ county: event.currentTarget.value })}
        />
        <TextInput
          label={say('Found from')}
          type="date"
          defaultValue={query.from ?? ''}
          onChange={(event) => address.filter({ from: event.currentTarget.value })}
        />
        <TextInput
          label={say('until')}
          type="date"
          defaultValue={query.to ?? ''}
          onChange={(event) => address.filter({ to: event.currentTarget.value })}
        />
        <TextInput
          label={say('Number, name, place or bag code')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <OutboxPanel personId={personId} />
      {query.permitId === undefined ? null : (
        <p>
          {say('Only birds counted under one permit.')}{' '}
          <Button variant="default" size="sm" onClick={() => address.filter({ permitId: null })}>
            {say('Show all')}
          </Button>
        </p>
      )}
      <DataList<SalvageRow>
        label={say('Found birds')}
        columns={[
          {
            id: 'number',
            head: say('Number and bird'),
            cell: (row) => (
              <>
                {row.number}{' '}
                <TaxonName
                  scientific={row.identified ? row.taxon : null}
                  common={row.identified ? row.commonName : row.taxon}
                />
              </>
            ),
          },
          { id: 'found', head: say('Found'), cell: (row) => sayDays(row.foundFrom, row.foundTo) },
          {
            id: 'place',
            head: say('County'),
            cell: (row) => [row.county, row.stateProvince].filter(Boolean).join(', ') || say('not known'),
          },
          { id: 'cause', head: say('Cause'), deskOnly: true, cell: (row) => sayWord(row.cause) },
          {
            id: 'coverage',
            head: say('Coverage'),
            cell: (row) => (
              <StateBadge tone={COVERAGE_TONES[row.coverage]}>
                {row.ruled ? say('{word}, ruled', { word: sayWord(row.coverage) }) : sayWord(row.coverage)}
              </StateBadge>
            ),
          },
          {
            id: 'state',
            head: say('State'),
            cell: (row) => (
              <StateBadge tone={STATE_TONES[row.state]}>
                {row.holds.length === 0
                  ? sayWord(row.state)
                  : `${sayWord(row.state)}: ${row.holds.map(sayWord).join(', ')}`}
              </StateBadge>
            ),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.salvageRecord(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={say('No found bird here')} act={logLink}>
            <p>{say('Birds appear when somebody logs one, or when a finder fills in a drop-off slip.')}</p>
          </EmptyState>
        }
      />
      <LegalCaution />
    </>
  );
}

function sayWaiting(counts: SalvagePage['counts']): string {
  const { reported, 'in-triage': inTriage, 'on-hold': onHold } = counts;
  if (reported + inTriage + onHold === 0) return say('Nothing waits in triage.');
  return say('{of} reported, {inTriage} in triage, {onHold} on hold.', {
    of: countOf(reported, 'bird'),
    inTriage,
    onHold,
  });
}
