'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import type { PlaceListQuery } from '@/lib/places/schema';
import type { PlaceRow } from '@/lib/places/wire-list';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { placeListOptions } from './queries';

/** Decimal degrees with their hemisphere letters. */
export function sayPoint(latitude: number, longitude: number): string {
  const half = (value: number, positive: string, negative: string) =>
    `${Math.abs(value).toFixed(5)}° ${value < 0 ? negative : positive}`;
  return `${half(latitude, 'N', 'S')}, ${half(longitude, 'E', 'W')}`;
}

const placed = (row: PlaceRow): string =>
  row.latitude === null || row.longitude === null ? say('none yet') : sayPoint(row.latitude, row.longitude);

/** The institution's own named places, for the forms that ask where a bird was found. */
export function PlaceList({ query }: { query: PlaceListQuery }) {
  const address = useListAddress();
  const list = useQuery(placeListOptions(query));
  const add = list.data?.mayManage ? (
    <Button component={Link} href={paths.placeNew}>
      {say('Add a place')}
    </Button>
  ) : null;
  return (
    <>
      <ListHead
        title={say('Places')}
        intro={say('Places that come again and again, read once and kept with how sure they are.')}
        acts={add}
      >
        <TextInput
          label={say('Name, county or state')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
        <NativeSelect
          label={say('Show')}
          value={query.shown}
          data={[
            { value: 'in-use', label: say('In use') },
            { value: 'retired', label: say('Retired') },
          ]}
          onChange={(event) => address.filter({ shown: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<PlaceRow>
        label={say('Places')}
        columns={[
          { id: 'name', head: say('Place'), cell: (row) => row.name },
          {
            id: 'where',
            head: say('County and state'),
            cell: (row) => [row.county, row.stateProvince, row.country].filter(Boolean).join(', '),
          },
          { id: 'point', head: say('Coordinates'), deskOnly: true, cell: placed },
          {
            id: 'uncertainty',
            head: say('Uncertainty'),
            unit: 'm',
            numeric: true,
            cell: (row) => (row.uncertaintyM === null ? '' : sayNumber(row.uncertaintyM)),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.place(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState
            title={query.q === undefined ? say('No place yet') : say('No place like this')}
            act={add}
          >
            <p>{say('Add the building, lake or road where birds are found often.')}</p>
          </EmptyState>
        }
      />
    </>
  );
}
