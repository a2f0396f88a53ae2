'use client';

import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useCallback, useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { useShortcuts } from '@/components/ui/shortcuts/use-shortcuts';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { DecisionBar } from './decision-bar';
import type { Mode } from './decision-panels';
import type { Remark } from './remark-lines';
import { reviewListOptions, reviewOptions } from './review-queries';
import { Decided, ReviewedRecord } from './reviewed-record';

const NEXT = { size: 50 };

/** One record under review: everything a curator decides upon, and the decision, by keyboard alone if wanted. */
export function ReviewDesk({ id }: { id: string }) {
  const router = useRouter();
  const record = useQuery(reviewOptions(id));
  const waiting = useQuery(reviewListOptions(NEXT));
  const [mode, setMode] = useState<Mode>('read');
  const [remarks, setRemarks] = useState<Remark[]>([]);
  const [decided, setDecided] = useState<{ catalogueNumber: string | null } | null>(null);
  const [newest, setNewest] = useState<string | null>(null);

  const addRemark = useCallback((field: string) => {
    const remark = { id: crypto.randomUUID(), field, remark: '' };
    setNewest(remark.id);
    setRemarks((before) => [...before, remark]);
    setMode('return');
  }, []);

  const next = waiting.data?.rows.find((row) => row.id !== id && !row.own)?.id ?? null;
  const abilities = record.data?.abilities;
  const begin = (wanted: Mode) => {
    if (wanted === 'return' && remarks.length === 0) addRemark('record');
    else setMode(wanted);
  };
  useShortcuts('review', {
    'review.read': () => setMode('read'),
    'review.approve': abilities?.approve ? () => setMode('approve') : undefined,
    'review.return': abilities?.return ? () => begin('return') : undefined,
    'review.next': next === null ? undefined : () => router.push(paths.reviewRecord(next)),
  });

  if (record.error)
    return (
      <ErrorState
        what={say('This record could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the record')} lines={10} />;
  return (
    <>
      {decided === null ? null : <Decided {...decided} birdId={record.data.birdId} nextId={next} />}
      <ReviewedRecord record={record.data} onRemark={abilities?.return ? addRemark : undefined} />
      <DecisionBar
        record={record.data}
        mode={mode}
        onMode={begin}
        remarks={remarks}
        onRemarks={setRemarks}
        newest={newest}
        onAddRemark={() => addRemark('record')}
        onApproved={(catalogueNumber) => setDecided({ catalogueNumber })}
        onReturned={() => setDecided({ catalogueNumber: null })}
      />
    </>
  );
}
