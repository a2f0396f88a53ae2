'use client';

import type { UseQueryResult } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { whenOpened } from '@/components/ui/later';
import type { PagingProps } from '@/components/ui/paging';
import type { SearchAnswer, SearchQuery } from '@/lib/catalogue/search-wire';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import type { BulkMay, Chosen } from './bulk-acts';
import { columnsFor } from './search-columns';

const BulkActs = whenOpened(() => import('./bulk-acts').then((module) => module.BulkActs), 2);

/**
 * A result as a table. Birds are chosen with the mouse or by Space on a row, over several pages of one search; another
 * search begins with none.
 */
export function ResultTable({
  query,
  list,
  columns,
  paging,
  may,
  onSort,
  onQuery,
}: {
  query: SearchQuery;
  list: UseQueryResult<SearchAnswer>;
  columns: readonly string[];
  paging: Omit<PagingProps, 'shown'>;
  may: BulkMay;
  onSort: (sort: string) => void;
  onQuery: (q: string) => void;
}) {
  const [choice, setChoice] = useState<{ q: string; birds: readonly Chosen[] }>({ q: query.q, birds: [] });
  const birds = choice.q === query.q ? choice.birds : [];
  const rows = list.data?.rows;
  const choose = (selected: ReadonlySet<string>) => {
    const known = new Map([...birds, ...(rows ?? [])].map((bird) => [bird.birdId, bird]));
    setChoice({ q: query.q, birds: [...selected].flatMap((id) => known.get(id) ?? []) });
  };
  const isOn = Object.values(may).some(Boolean);
  return (
    <DataList
      label={say('Birds that fit')}
      columns={columnsFor(columns)}
      rows={rows}
      rowId={(row) => row.birdId}
      rowHref={(row) => paths.catalogueEntry(row.birdId)}
      sort={{ by: query.sort.replace(/^-/, ''), direction: query.sort.startsWith('-') ? 'down' : 'up' }}
      onSort={(sort) => onSort(`${sort.direction === 'down' ? '-' : ''}${sort.by}`)}
      selection={
        isOn ? { selected: new Set(birds.map(({ birdId }) => birdId)), onChange: choose } : undefined
      }
      bulk={<BulkActs birds={birds} q={query.q} may={may} onQuery={onQuery} />}
      loading={list.isFetching}
      error={list.error}
      onRetry={() => void list.refetch()}
      paging={paging}
      empty={
        <EmptyState title={query.q === '' ? say('No bird yet') : say('No bird fits')}>
          <p>
            {query.q === ''
              ? say('Birds come here when they are accepted in triage.')
              : say('Take a word away, or look under “How to ask”.')}
          </p>
        </EmptyState>
      }
    />
  );
}
