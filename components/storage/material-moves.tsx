'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { movesOptions } from './queries';

/** Every place a material had, the latest first. */
export function MaterialMoves({ id }: { id: string }) {
  const moves = useQuery(movesOptions(id));
  return (
    <DataList
      label="Places it had, the latest first"
      columns={[
        { id: 'at', head: 'When', cell: (move) => <Moment at={move.at} show="both" /> },
        { id: 'to', head: 'To', cell: (move) => move.to ?? 'off the shelf' },
        { id: 'from', head: 'From', cell: (move) => move.from ?? '' },
        {
          id: 'why',
          head: 'Why',
          cell: (move) =>
            [move.reason, move.withUnit ? 'moved with its box' : null].filter(Boolean).join('; '),
        },
        { id: 'by', head: 'By', cell: (move) => move.by ?? '' },
      ]}
      rows={moves.data?.moves}
      rowId={(move) => move.id}
      error={moves.error}
      onRetry={() => void moves.refetch()}
      empty={<EmptyState title="It never had a place" />}
    />
  );
}
