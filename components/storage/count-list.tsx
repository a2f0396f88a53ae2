'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import type { CountRow } from '@/lib/storage/wire-inventory';
import { countsOptions } from './queries';

/** Counts that run, and what the latest ones found. */
export function CountList() {
  const counts = useQuery(countsOptions());
  return (
    <DataList<CountRow>
      label="Counts, those that run first"
      columns={[
        { id: 'unit', head: 'What is counted', cell: (row) => row.unitPath },
        { id: 'at', head: 'Begun', cell: (row) => <Moment at={row.startedAt} show="both" /> },
        { id: 'by', head: 'By', deskOnly: true, cell: (row) => row.startedBy },
        { id: 'scans', head: 'Read', numeric: true, cell: (row) => row.scans },
        { id: 'outcome', head: 'Outcome', cell: (row) => <Outcome row={row} /> },
      ]}
      rows={counts.data?.rows}
      rowId={(row) => row.id}
      rowHref={(row) => paths.inventory(row.id)}
      error={counts.error}
      onRetry={() => void counts.refetch()}
      empty={
        <EmptyState title="Nothing was counted yet">
          <p>Open a freezer or a box and begin a count there.</p>
        </EmptyState>
      }
    />
  );
}

function Outcome({ row: { outcome } }: { row: CountRow }) {
  if (outcome === null) return <StateBadge tone="lead">Running</StateBadge>;
  const found = [
    [outcome.missing, 'missing'],
    [outcome.misplaced, 'misplaced'],
    [outcome.unexpected, 'unexpected'],
    [outcome.shared, 'two in one position'],
  ] as const;
  const words = found.flatMap(([number, what]) => (number > 0 ? `${number} ${what}` : []));
  const all = countOf(outcome.expected, 'material');
  return words.length === 0 ? (
    <StateBadge tone="settled">All {all} there</StateBadge>
  ) : (
    <StateBadge tone="attention">{`${words.join(', ')} of ${all}`}</StateBadge>
  );
}
