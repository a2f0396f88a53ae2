'use client';

import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { say } from '@/lib/platform/words/say';
import { movesOptions } from './queries';

/** Every place a material had, the latest first. */
export function MaterialMoves({ id }: { id: string }) {
  const moves = useQuery(movesOptions(id));
  return (
    <DataList
      label={say('Places it had, the latest first')}
      columns={[
        { id: 'at', head: say('When'), cell: (move) => <Moment at={move.at} show="both" /> },
        { id: 'to', head: say('To'), cell: (move) => move.to ?? say('off the shelf') },
        { id: 'from', head: say('From'), cell: (move) => move.from ?? '' },
        {
          id: 'why',
          head: say('Why'),
          cell: (move) =>
            [move.reason, move.withUnit ? say('moved with its box') : null].filter(Boolean).join('; '),
        },
        { id: 'by', head: say('By'), cell: (move) => move.by ?? '' },
      ]}
      rows={moves.data?.moves}
      rowId={(move) => move.id}
      error={moves.error}
      onRetry={() => void moves.refetch()}
      empty={<EmptyState title={say('It never had a place')} />}
    />
  );
}
