'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import { useSearchParams } from 'next/navigation';
import { whenOpened } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import type { SearchAnswer, SearchQuery } from '@/lib/catalogue/search-wire';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import type { BulkMay } from './bulk-acts';
import { Facets } from './facets';
import { searchOptions } from './queries';
import { ResultTable } from './result-table';
import classes from './search.module.css';
import { SearchBox } from './search-box';
import type { SearchReading } from './search-builder';
import { USUAL } from './search-columns';
import { ToolButton } from './tool-button';
import { ViewChoice, viewOf } from './view-choice';

const SearchBuilder = whenOpened(() => import('./search-builder').then((module) => module.SearchBuilder));
const ViewsPopover = whenOpened(
  () => import('./views-popover').then((module) => module.ViewsPopover),
  () => <Button variant="default">{say('Saved views')}</Button>,
);
const ColumnPopover = whenOpened(
  () => import('./column-popover').then((module) => module.ColumnPopover),
  () => <Button variant="default">{say('Columns')}</Button>,
);

// Outlines and drawings are fetched when they are looked at.
const ResultMap = dynamic(() => import('./result-map').then((loaded) => loaded.ResultMap), {
  ssr: false,
  loading: () => <Loading what={say('Drawing the map')} lines={8} />,
});
const ResultCharts = dynamic(() => import('./result-charts').then((loaded) => loaded.ResultCharts), {
  ssr: false,
  loading: () => <Loading what={say('Counting')} lines={8} />,
});

const FORMS = phrases([
  { form: 'csv', label: 'As CSV' },
  { form: 'xlsx', label: 'As XLSX' },
] as const);

export type CatalogueMay = { review: boolean; numbers: boolean; bulk: BulkMay };

const sayTotal = ({ total, countedTo }: SearchAnswer): string => {
  if (total === null) return say('A later page of the result');
  return total > countedTo
    ? say('More than {of}', { of: countOf(countedTo, 'bird') })
    : countOf(total, 'bird');
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
  return (
    <>
      <ListHead
        title={say('Catalogue')}
        intro={say('Every bird, from the freezer to the shelf. Ask in your own words.')}
        acts={
          <>
            {may.numbers ? (
              <Button component={Link} href={paths.numbers} variant="default">
                {say('The lab in numbers')}
              </Button>
            ) : null}
            {may.review ? (
              <Button component={Link} href={paths.review} variant="default">
                {say('Review desk')}
              </Button>
            ) : null}
          </>
        }
      >
        <SearchBox q={query.q} answer={list.data} onQuery={onQuery}>
          <Button
            variant="subtle"
            ml="calc(-1 * var(--button-padding-x-sm))"
            aria-expanded={isBuilding}
            onClick={() => address.filter({ builder: isBuilding ? null : 'open' })}
          >
            {isBuilding ? say('Close the builder') : say('Build a search')}
          </Button>
          {isBuilding ? <SearchBuilder q={query.q} {...reading} onQuery={onQuery} /> : null}
        </SearchBox>
      </ListHead>
      <div className={classes.layout}>
        <Facets facets={list.data?.facets ?? []} q={query.q} onQuery={onQuery} />
        <div>
          <div className={classes.tools}>
            <p className={classes.total} role="status">
              {list.data === undefined ? say('Searching…') : sayTotal(list.data)}
            </p>
            <ViewChoice view={view} />
            <ToolButton label={say('Saved views')} part={ViewsPopover} props={{ search: kept.toString() }} />
            {view === 'table' ? (
              <ToolButton
                label={say('Columns')}
                part={ColumnPopover}
                props={{
                  chosen,
                  onChange: (columns: string[]) => address.filter({ columns: columns.join(',') }),
                }}
              />
            ) : null}
            {may.bulk.export
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
            <ResultTable
              query={query}
              list={list}
              columns={chosen}
              paging={address.paging(list.data?.next, query.size)}
              may={may.bulk}
              onSort={(sort) => address.filter({ sort })}
              onQuery={onQuery}
            />
          ) : null}
        </div>
      </div>
    </>
  );
}
