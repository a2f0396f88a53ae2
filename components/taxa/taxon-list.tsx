'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { sayWord } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import type { TaxonListQuery, TaxonRow } from '@/lib/taxa/schema';
import { checklistsOptions, familyOptions, taxonListOptions } from './queries';

const SHOWN = [
  { value: 'accepted', label: 'Accepted names' },
  { value: 'synonyms', label: 'Synonyms' },
  { value: 'sensitive', label: 'Sensitive taxa' },
  { value: 'held', label: 'Taxa of our birds' },
];

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
        title="Taxa"
        intro={
          current === undefined
            ? 'No checklist is current yet.'
            : `${current.name}, edition ${current.edition}. ${current.credit}`
        }
        acts={
          <Button component={Link} href={paths.checklists} variant="default">
            Checklists
          </Button>
        }
      >
        <TextInput
          label="Scientific or English name"
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
        <NativeSelect
          label="Family"
          value={query.family ?? ''}
          data={[{ value: '', label: 'All families' }, ...(families.data?.rows ?? [])]}
          onChange={(event) => address.filter({ family: event.currentTarget.value })}
        />
        <NativeSelect
          label="Show"
          value={query.shown}
          data={SHOWN}
          onChange={(event) => address.filter({ shown: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<TaxonRow>
        label="Taxa"
        columns={[
          {
            id: 'name',
            head: 'Taxon',
            cell: (row) => <TaxonName scientific={row.scientificName} common={row.commonName} />,
          },
          {
            id: 'accepted',
            head: 'Rank or accepted name',
            cell: (row) =>
              row.acceptedName === null ? sayWord(row.rank) : <TaxonName scientific={row.acceptedName} />,
          },
          { id: 'family', head: 'Family', cell: (row) => row.familyName ?? '' },
          { id: 'order', head: 'Order', deskOnly: true, cell: (row) => row.orderName ?? '' },
          {
            id: 'sensitive',
            head: 'Places',
            cell: (row) => (row.sensitive ? <StateBadge tone="attention">Sensitive</StateBadge> : 'open'),
          },
          { id: 'birds', head: 'Birds here', numeric: true, cell: (row) => row.birds },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.taxon(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={current === undefined ? 'No checklist yet' : 'No taxon like this'}>
            <p>
              {current === undefined
                ? 'Load a checklist and make it the current one.'
                : 'Try a part of the name, or look among the synonyms.'}
            </p>
          </EmptyState>
        }
      />
    </>
  );
}
