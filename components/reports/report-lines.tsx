'use client';

import { Button, Group, NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { TaxonName } from '@/components/ui/taxon-name';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { FIGURE_HEADS, ORIGIN_WORDS, OUTCOME_WORDS, sayOutcome, sayPlace } from '@/lib/reports/rules/words';
import type { ReportLine } from '@/lib/reports/schema';
import type { LineQuery, ReportRecord } from '@/lib/reports/wire';
import { reportLinesOptions } from './queries';

const FILTERS = ['figure', 'taxon', 'specimenType', 'county', 'month', 'outcome', 'warning'] as const;

/** Each bird on its one line; narrowed to the birds behind a number when one was opened. */
export function ReportLines({ record, query }: { record: ReportRecord; query: LineQuery }) {
  const address = useListAddress();
  const lines = useQuery(reportLinesOptions(record.id, query));
  const filtered = FILTERS.some((name) => query[name] !== undefined);
  return (
    <>
      <Group align="flex-end" mb="md">
        <NativeSelect
          label={say('What became of them')}
          data={[
            { value: '', label: say('Anything') },
            ...Object.entries(OUTCOME_WORDS).map(([value, label]) => ({ value, label })),
          ]}
          value={query.outcome ?? ''}
          onChange={(event) => address.filter({ outcome: event.currentTarget.value })}
        />
        {filtered ? (
          <Button
            variant="default"
            onClick={() => address.filter(Object.fromEntries(FILTERS.map((name) => [name, null])))}
          >
            {say('Show every bird')}
          </Button>
        ) : null}
      </Group>
      {filtered ? (
        <p role="status">
          {sayFilter(query, record)}
          {lines.data === undefined ? '' : `: ${sayCount(lines.data.total, lines.data.counted)}`}
        </p>
      ) : null}
      <DataList<ReportLine>
        label={say('Birds of this report')}
        columns={[
          { id: 'number', head: say('Number'), cell: (line) => line.number },
          { id: 'taxon', head: say('Taxon'), cell: (line) => <TaxonName scientific={line.taxon} /> },
          {
            id: 'found',
            head: say('Found'),
            cell: (line) => sayDays(line.foundEarliestOn, line.foundLatestOn),
          },
          { id: 'place', head: say('Place'), deskOnly: true, cell: sayPlace },
          { id: 'cause', head: say('Cause'), deskOnly: true, cell: (line) => sayWord(line.cause) },
          {
            id: 'salvager',
            head: say('Salvager'),
            deskOnly: true,
            cell: (line) => line.salvager ?? 'not recorded',
          },
          { id: 'origin', head: say('Came as'), cell: (line) => ORIGIN_WORDS[line.origin] },
          { id: 'outcome', head: say('What became of it'), cell: sayOutcome },
          { id: 'onHand', head: say('On hand'), numeric: true, cell: (line) => line.onHand },
        ]}
        rows={lines.data?.rows}
        rowId={(line) => line.birdId}
        rowHref={(line) => paths.salvageRecord(line.birdId)}
        loading={lines.isFetching}
        error={lines.error}
        onRetry={() => void lines.refetch()}
        paging={{
          ...address.paging(lines.data?.next, query.size),
          total: lines.data?.total,
          from: lines.data?.from,
        }}
        empty={<EmptyState title={filtered ? say('No bird like this') : say('No bird in this period')} />}
      />
    </>
  );
}

function sayFilter(query: LineQuery, record: ReportRecord): string {
  const warning = record.report.warnings.find(({ id }) => id === query.warning);
  const parts = [
    query.figure === undefined ? undefined : FIGURE_HEADS[query.figure],
    query.outcome === undefined ? undefined : OUTCOME_WORDS[query.outcome],
    query.taxon,
    query.specimenType === undefined ? undefined : sayWord(query.specimenType),
    query.county,
    query.month,
    warning?.message,
  ];
  return parts.filter((part) => part !== undefined).join(', ');
}

function sayCount(birds: number, specimens: number | null): string {
  const lines = countOf(birds, 'bird');
  return specimens === null || specimens === birds ? lines : `${lines}, ${countOf(specimens, 'specimen')}`;
}
