'use client';

import { NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ListHead } from '@/components/ui/page-head';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { preservationKinds } from '@/lib/storage/schema';
import { tissueKinds, vialStates } from '@/lib/tissues/schema';
import type { VialListQuery, VialRow } from '@/lib/tissues/wire';
import { vialListOptions } from './queries';
import { sayClass, sayLeft, sayPreservation, sayTissues, VialStateBadge } from './words';

const any = phrases({ value: '', label: 'Any' });
const options = (values: readonly string[]) => [
  any,
  ...values.map((value) => ({ value, label: sayWord(value) })),
];
const classes = () => [
  any,
  ...[4, 3, 2, 1].map((value) => ({
    value: String(value),
    label: value === 4 ? '4' : say('{value} or better', { value }),
  })),
];

/** Every vial, newest first: a tissue request is answered from here. */
export function VialList({ query }: { query: VialListQuery }) {
  const address = useListAddress();
  const list = useQuery(vialListOptions(query));
  return (
    <>
      <ListHead
        title={say('Tissues')}
        intro={say('Every vial with what is in it, how good it is and where it lies.')}
      >
        <TextInput
          label={say('Number, name or code')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Tissue')}
          data={options(tissueKinds)}
          value={query.tissue ?? ''}
          onChange={(event) => address.filter({ tissue: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Kept')}
          data={options(preservationKinds)}
          value={query.preservation ?? ''}
          onChange={(event) => address.filter({ preservation: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Class')}
          data={classes()}
          value={query.quality?.toString() ?? ''}
          onChange={(event) => address.filter({ quality: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('State')}
          data={options(vialStates)}
          value={query.state ?? ''}
          onChange={(event) => address.filter({ state: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<VialRow>
        label={say('Vials, newest first')}
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.vial(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={say('No vial here')}>
            <p>
              {say("Vials are filled at the bench, from the bird's record. Take a filter away to see more.")}
            </p>
          </EmptyState>
        }
      />
    </>
  );
}

export const COLUMNS = phrases([
  {
    id: 'vial',
    head: 'Vial',
    cell: (row: VialRow) => (
      <>
        {row.label}
        <br />
        <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  { id: 'tissues', head: 'Tissue', cell: (row: VialRow) => sayWord(sayTissues(row.tissues)) },
  { id: 'kept', head: 'Kept', cell: (row: VialRow) => sayPreservation(row.preservation) },
  { id: 'left', head: 'Left', numeric: true, cell: (row: VialRow) => sayLeft(row) },
  { id: 'class', head: 'Quality', cell: (row: VialRow) => sayClass(row.quality.stars) },
  { id: 'state', head: 'State', cell: (row: VialRow) => <VialStateBadge vial={row} /> },
  { id: 'place', head: 'Place', cell: (row: VialRow) => row.place ?? say('no place') },
]);
