'use client';

import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState, useSyncExternalStore } from 'react';
import { notify } from '@/components/ui/notify';
import { FIELDS } from '@/lib/bench/fields';
import type { BenchRecord, WrittenValues } from '@/lib/bench/wire';
import type { WriteRequest } from '@/lib/bench/wire-acts';
import { callApi } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import { ChangeQueue, type QueueState } from './change-queue';
import { benchKeys } from './keys';
import { answerOf, answers } from './later-code';
import type { PendingChange, PendingEntry } from './pending';

const NOTHING: QueueState = {
  pending: [],
  sending: false,
  waiting: null,
  stopped: null,
  refused: [],
  lastSavedAt: null,
};

/** The changes of this person to this record, kept in the browser until the server has them. */
export function useChangeQueue(recordId: string, personId: string): [ChangeQueue, QueueState] {
  const queries = useQueryClient();
  answers.useNow();
  const [queue] = useState(
    () =>
      new ChangeQueue({
        storage: typeof window === 'undefined' ? null : window.localStorage,
        prefix: `furcula.bench ${personId} ${recordId} `,
        now: Date.now,
        later: (call, ms) => {
          const timer = setTimeout(call, ms);
          return () => clearTimeout(timer);
        },
        send: async (batch) => {
          const record = await sendBatch(recordId, batch);
          queries.setQueryData<BenchRecord>(
            benchKeys.record(recordId),
            (shown) => shown && { ...shown, ...record, earlier: { ...shown.earlier, ...record.earlier } },
          );
        },
      }),
  );
  useEffect(() => {
    const again = () => void queue.flush();
    again();
    window.addEventListener('online', again);
    return () => window.removeEventListener('online', again);
  }, [queue]);
  return [queue, useSyncExternalStore(queue.subscribe, queue.getState, () => NOTHING)];
}

async function sendBatch(
  recordId: string,
  batch: readonly PendingChange[],
): Promise<BenchRecord | WrittenValues> {
  const [first] = batch;
  const post = { method: 'POST' as const, schema: answerOf('benchRecord') };
  if (first?.kind === 'step') {
    const body = { step: first.step, done: first.done, waitedMs: Math.max(0, Date.now() - first.atMs) };
    return callApi(`/api/bench/${recordId}/steps`, { ...post, body });
  }
  if (first?.kind === 'override') {
    const body = { key: first.warning, reason: first.reason };
    return callApi(`/api/bench/${recordId}/overrides`, { ...post, body });
  }
  const entries = batch.filter((change): change is PendingEntry => change.kind === 'entry');
  const body: WriteRequest = {
    sentAt: new Date().toISOString(),
    entries: entries.map(({ kind: _, key, atMs, ...entry }) => ({
      ...entry,
      clientKey: key,
      enteredAt: new Date(atMs).toISOString(),
    })),
  };
  const { record, outcomes } = await callApi(`/api/bench/${recordId}/entries`, {
    method: 'POST',
    body,
    schema: answerOf('writeAnswer'),
  });
  for (const { field, outcome } of outcomes) if (outcome === 'outranked') tellOutranked(record, field);
  return record;
}

function tellOutranked(record: WrittenValues, field: PendingEntry['field']): void {
  const holder = record.values[field]?.by.name ?? say('Somebody');
  notify({
    color: 'attention',
    title: say('{label}: {holder} wrote later', { label: FIELDS[field].label, holder }),
    message: say('What stood longer on this device was sent and is kept as an earlier value.'),
    autoClose: false,
  });
}
