'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import Link from 'next/link';
import { useSearchParams } from 'next/navigation';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import { countOf } from '@/components/ui/words';
import type { SearchAnswer, SearchQuery } from '@/lib/catalogue/search-wire';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { ColumnChoice } from './column-choice';
import { Facets } from './facets';
import { searchOptions } from './queries';
import { SavedViews } from './saved-views';
import classes from './search.module.css';
import { SearchBox } from './search-box';
import { SearchBuilder, type SearchReading } from './search-builder';
import { columnsFor, USUAL } from './search-columns';
import { ViewChoice, viewOf } from './view-choice';

// Outlines and drawings are fetched when they are looked at.
const ResultMap = dynamic(() => import('./result-map').then((loaded) => loaded.ResultMap), {
  ssr: false,
  loading: () => <Loading what="Drawing the map" lines={8} />,
});
const ResultCharts = dynamic(() => import('./result-charts').then((loaded) => loaded.ResultCharts), {
  ssr: false,
  loading: () => <Loading what="Counting" lines={8} />,
});

const FORMS = [
  { form: 'csv', label: 'As CSV' },
  { form: 'xlsx', label: 'As XLSX' },
] as const;

export type CatalogueMay = { review: boolean; export: boolean; numbers: boolean };

const sayTotal = ({ total, countedTo }: SearchAnswer): string => {
  if (total === null) return 'A later page of the result';
  return total > countedTo ? `More than ${countOf(countedTo, 'bird')}` : countOf(total, 'bird');
};

/** Everything the collection has of birds, by one box: what fits, what it has in common, as a table. */
export function CatalogueList({
  query,
  reading,
  may,
}: {
  query: SearchQuery;
  reading: SearchReading;
  may: CatalogueMay;
}) {
  const address = useListAddress();
  const search = useSearchParams();
  const list = useQuery(searchOptions(query));
  const chosen = search.get('columns')?.split(',') ?? [...USUAL];
  const onQuery = (q: string) => address.filter({ q });
  const kept = new URLSearchParams(search);
  for (const passing of ['after', 'builder']) kept.delete(passing);
  const isBuilding = search.get('builder') === 'open';
  const view = viewOf(search.get('view'));
  const by = query.sort.replace(/^-/, '');
  return (
    <>
      <ListHead
        title="Catalogue"
        intro="Every bird, from the freezer to the shelf. Ask in your own words."
        acts={
          <>
            {may.numbers ? (
              <Button component={Link} href={paths.numbers} variant="default">
                The lab in numbers
              </Button>
            ) : null}
            {may.review ? (
              <Button component={Link} href={paths.review} variant="default">
                Review desk
              </Button>
            ) : null}
          </>
        }
      >
        <SearchBox q={query.q} answer={list.data} onQuery={onQuery}>
          <Button
            variant="subtle"
            aria-expanded={isBuilding}
            onClick={() => address.filter({ builder: isBuilding ? null : 'open' })}
          >
            {isBuilding ? 'Close the builder' : 'Build a search'}
          </Button>
          {isBuilding ? <SearchBuilder q={query.q} {...reading} onQuery={onQuery} /> : null}
        </SearchBox>
      </ListHead>
      <div className={classes.layout}>
        <Facets facets={list.data?.facets ?? []} q={query.q} onQuery={onQuery} />
        <div>
          <div className={classes.tools}>
            <p className={classes.total} role="status">
              {list.data === undefined ? 'Searching…' : sayTotal(list.data)}
            </p>
            <ViewChoice view={view} />
            <SavedViews search={kept.toString()} />
            {view === 'table' ? (
              <ColumnChoice
                chosen={chosen}
                onChange={(columns) => address.filter({ columns: columns.join(',') })}
              />
            ) : null}
            {may.export
              ? FORMS.map(({ form, label }) => (
                  <Button
                    key={form}
                    component="a"
                    variant="default"
                    href={`/api/catalogue/export${queryString({ q: query.q, sort: query.sort, form })}`}
                  >
                    {label}
                  </Button>
                ))
              : null}
          </div>
          {view === 'map' ? <ResultMap q={query.q} /> : null}
          {view === 'charts' ? <ResultCharts q={query.q} /> : null}
          {view === 'table' ? (
            <DataList
              label="Birds that fit"
              columns={columnsFor(chosen)}
              rows={list.data?.rows}
              rowId={(row) => row.birdId}
              rowHref={(row) => paths.catalogueEntry(row.birdId)}
              sort={{ by, direction: query.sort.startsWith('-') ? 'down' : 'up' }}
              onSort={(sort) => address.filter({ sort: `${sort.direction === 'down' ? '-' : ''}${sort.by}` })}
              loading={list.isFetching}
              error={list.error}
              onRetry={() => void list.refetch()}
              paging={address.paging(list.data?.next, query.size)}
              empty={
                <EmptyState title={query.q === '' ? 'No bird yet' : 'No bird fits'}>
                  <p>
                    {query.q === ''
                      ? 'Birds come here when they are accepted in triage.'
                      : 'Take a word away, or look under “How to ask”.'}
                  </p>
                </EmptyState>
              }
            />
          ) : null}
        </div>
      </div>
    </>
  );
}
