'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { sayWord } from '@/components/ui/words';
import type { DeliveryRow } from '@/lib/exchange/webhooks/schema';
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
        label="Deliveries"
        columns={[
          { id: 'kind', head: 'Event', cell: (row) => row.kind },
          { id: 'to', head: 'To', cell: (row) => row.to },
          { id: 'at', head: 'Happened', cell: (row) => <Moment at={row.at} /> },
          {
            id: 'state',
            head: 'State',
            cell: (row) => <StateBadge tone={TONES[row.state]}>{sayWord(row.state)}</StateBadge>,
          },
          { id: 'attempts', head: 'Attempts', numeric: true, deskOnly: true, cell: (row) => row.attempts },
          { id: 'error', head: 'Last failure', cell: (row) => row.lastError ?? '' },
          {
            id: 'resend',
            head: 'Send it again',
            cell: (row) =>
              row.state === 'waiting' ? null : (
                <Button
                  size="xs"
                  variant="default"
                  loading={resend.isPending && resend.variables === row.id}
                  onClick={() => resend.mutate(row.id)}
                >
                  Send again
                </Button>
              ),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        error={list.error}
        onRetry={() => void list.refetch()}
        empty={<EmptyState title="Nothing was sent yet" />}
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
