'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import type { TaxonListQuery, TaxonRow } from '@/lib/taxa/schema';
import { checklistsOptions, familyOptions, taxonListOptions } from './queries';

const SHOWN = phrases([
  { value: 'accepted', label: 'Accepted names' },
  { value: 'synonyms', label: 'Synonyms' },
  { value: 'sensitive', label: 'Sensitive taxa' },
  { value: 'held', label: 'Taxa of our birds' },
]);

/** The current checklist: names, families, which taxa are sensitive, how many birds we have of each. */
export function TaxonList({ query }: { query: TaxonListQuery }) {
  const address = useListAddress();
  const list = useQuery(taxonListOptions(query));
  const families = useQuery(familyOptions());
  const editions = useQuery(checklistsOptions());
  const current = editions.data?.rows.find((row) => row.current);
  return (
    <>
      <ListHead
        title={say('Taxa')}
        intro={
          current === undefined
            ? say('No checklist is current yet.')
            : say('{name}, edition {edition}. {credit}', {
                name: current.name,
                edition: current.edition,
                credit: current.credit,
              })
        }
        acts={
          <Button component={Link} href={paths.checklists} variant="default">
            {say('Checklists')}
          </Button>
        }
      >
        <TextInput
          label={say('Scientific or English name')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Family')}
          value={query.family ?? ''}
          data={[{ value: '', label: say('All families') }, ...(families.data?.rows ?? [])]}
          onChange={(event) => address.filter({ family: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Show')}
          value={query.shown}
          data={SHOWN}
          onChange={(event) => address.filter({ shown: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<TaxonRow>
        label={say('Taxa')}
        columns={[
          {
            id: 'name',
            head: say('Taxon'),
            cell: (row) => <TaxonName scientific={row.scientificName} common={row.commonName} />,
          },
          {
            id: 'accepted',
            head: say('Rank or accepted name'),
            cell: (row) =>
              row.acceptedName === null ? sayWord(row.rank) : <TaxonName scientific={row.acceptedName} />,
          },
          { id: 'family', head: say('Family'), cell: (row) => row.familyName ?? '' },
          { id: 'order', head: say('Order'), deskOnly: true, cell: (row) => row.orderName ?? '' },
          {
            id: 'sensitive',
            head: say('Places'),
            cell: (row) =>
              row.sensitive ? <StateBadge tone="attention">{say('Sensitive')}</StateBadge> : say('open'),
          },
          { id: 'birds', head: say('Birds here'), numeric: true, cell: (row) => row.birds },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.taxon(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={current === undefined ? say('No checklist yet') : say('No taxon like this')}>
            <p>
              {current === undefined
                ? say('Load a checklist and make it the current one.')
                : say('Try a part of the name, or look among the synonyms.')}
            </p>
          </EmptyState>
        }
      />
    </>
  );
}
