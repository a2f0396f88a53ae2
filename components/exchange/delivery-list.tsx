'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import type { DeliveryRow } from '@/lib/exchange/webhooks/schema';
import { say, sayWord } from '@/lib/platform/words/say';
import { deliveriesOptions, useResendDelivery } from './webhook-queries';

const TONES = { waiting: 'neutral', delivered: 'settled', 'given-up': 'stop' } as const;

/** Messages to all addresses, newest first. */
export function DeliveryList() {
  const [after, setAfter] = useState<string[]>([]);
  const list = useQuery(deliveriesOptions(after.at(-1)));
  const resend = useResendDelivery();
  const next = list.data?.next ?? null;
  return (
    <>
      {resend.error === null ? null : <p role="alert">{problemOf(resend.error).title}</p>}
      <DataList<DeliveryRow>
        label={say('Deliveries')}
        columns={[
          { id: 'kind', head: say('Event'), cell: (row) => row.kind },
          { id: 'to', head: say('To'), cell: (row) => row.to },
          { id: 'at', head: say('Happened'), cell: (row) => <Moment at={row.at} /> },
          {
            id: 'state',
            head: say('State'),
            cell: (row) => <StateBadge tone={TONES[row.state]}>{sayWord(row.state)}</StateBadge>,
          },
          {
            id: 'attempts',
            head: say('Attempts'),
            numeric: true,
            deskOnly: true,
            cell: (row) => row.attempts,
          },
          { id: 'error', head: say('Last failure'), cell: (row) => row.lastError ?? '' },
          {
            id: 'resend',
            head: say('Send it again'),
            cell: (row) =>
              row.state === 'waiting' ? null : (
                <Button
                  size="xs"
                  variant="default"
                  loading={resend.isPending && resend.variables === row.id}
                  onClick={() => resend.mutate(row.id)}
                >
                  {say('Send again')}
                </Button>
              ),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        error={list.error}
        onRetry={() => void list.refetch()}
        empty={<EmptyState title={say('Nothing was sent yet')} />}
        loading={list.isFetching}
        paging={{
          size: 20,
          onNext: next === null ? undefined : () => setAfter([...after, next]),
          onPrevious: after.length === 0 ? undefined : () => setAfter(after.slice(0, -1)),
        }}
      />
    </>
  );
}
