'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import type { CountRow } from '@/lib/storage/wire-inventory';
import { countsOptions } from './queries';

/** Counts that run, and what the latest ones found. */
export function CountList() {
  const counts = useQuery(countsOptions());
  return (
    <DataList<CountRow>
      label={say('Counts, those that run first')}
      columns={[
        { id: 'unit', head: say('What is counted'), cell: (row) => row.unitPath },
        { id: 'at', head: say('Begun'), cell: (row) => <Moment at={row.startedAt} show="both" /> },
        { id: 'by', head: say('By'), deskOnly: true, cell: (row) => row.startedBy },
        { id: 'scans', head: say('Read'), numeric: true, cell: (row) => row.scans },
        { id: 'outcome', head: say('Outcome'), cell: (row) => <Outcome row={row} /> },
      ]}
      rows={counts.data?.rows}
      rowId={(row) => row.id}
      rowHref={(row) => paths.inventory(row.id)}
      error={counts.error}
      onRetry={() => void counts.refetch()}
      empty={
        <EmptyState title={say('Nothing was counted yet')}>
          <p>{say('Open a freezer or a box and begin a count there.')}</p>
        </EmptyState>
      }
    />
  );
}

function Outcome({ row: { outcome } }: { row: CountRow }) {
  if (outcome === null) return <StateBadge tone="lead">{say('Running')}</StateBadge>;
  const found = [
    [outcome.missing, 'missing'],
    [outcome.misplaced, 'misplaced'],
    [outcome.unexpected, 'unexpected'],
    [outcome.shared, say('two in one position')],
  ] as const;
  const words = found.flatMap(([number, what]) => (number > 0 ? `${number} ${what}` : []));
  const all = countOf(outcome.expected, 'material');
  return words.length === 0 ? (
    <StateBadge tone="settled">{say('All {all} there', { all })}</StateBadge>
  ) : (
    <StateBadge tone="attention">{say('{words} of {all}', { words: words.join(', '), all })}</StateBadge>
  );
}
