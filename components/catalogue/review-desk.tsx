'use client';

import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useCallback, useEffect, useRef, useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { paths } from '@/lib/platform/paths';
import { DecisionBar, type Mode } from './decision-bar';
import { reviewListOptions, reviewOptions } from './queries';
import type { Remark } from './remark-lines';
import { Decided, ReviewedRecord } from './reviewed-record';

const NEXT = { size: 50 };
const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName));

/** One record under review: everything a curator decides upon, and the decision, by keyboard alone if wanted. */
export function ReviewDesk({ id }: { id: string }) {
  const router = useRouter();
  const record = useQuery(reviewOptions(id));
  const waiting = useQuery(reviewListOptions(NEXT));
  const [mode, setMode] = useState<Mode>('read');
  const [remarks, setRemarks] = useState<Remark[]>([]);
  const [decided, setDecided] = useState<{ catalogueNumber: string | null } | null>(null);
  const focusOn = useRef<string | null>(null);

  const addRemark = useCallback((field: string) => {
    const remark = { id: crypto.randomUUID(), field, remark: '' };
    focusOn.current = remark.id;
    setRemarks((before) => [...before, remark]);
    setMode('return');
  }, []);
  // A remark that was just added is where one goes on writing.
  useEffect(() => {
    if (focusOn.current === null || mode !== 'return') return;
    document.querySelector<HTMLElement>(`[data-remark="${focusOn.current}"]`)?.focus();
    focusOn.current = null;
  });

  const next = waiting.data?.rows.find((row) => row.id !== id && !row.own)?.id ?? null;
  const abilities = record.data?.abilities;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape') return setMode('read');
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
      if (event.key === 'a' && abilities?.approve) setMode('approve');
      else if (event.key === 'r' && abilities?.return) {
        if (remarks.length === 0) addRemark('record');
        else setMode('return');
      } else if (event.key === 'n' && next !== null) router.push(paths.reviewRecord(next));
      else return;
      // The letter would otherwise be written into the field that takes the focus.
      event.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [abilities, addRemark, next, remarks.length, router]);

  if (record.error)
    return (
      <ErrorState
        what="This record could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what="Loading the record" lines={10} />;
  return (
    <>
      {decided === null ? null : <Decided {...decided} birdId={record.data.birdId} nextId={next} />}
      <ReviewedRecord record={record.data} onRemark={abilities?.return ? addRemark : undefined} />
      <DecisionBar
        record={record.data}
        mode={mode}
        onMode={(wanted) => {
          if (wanted === 'return' && remarks.length === 0) addRemark('record');
          else setMode(wanted);
        }}
        remarks={remarks}
        onRemarks={setRemarks}
        onAddRemark={() => addRemark('record')}
        onApproved={(catalogueNumber) => setDecided({ catalogueNumber })}
        onReturned={() => setDecided({ catalogueNumber: null })}
      />
    </>
  );
}
