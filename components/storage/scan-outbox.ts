import { useCallback, useEffect, useRef, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import type { SaveStatus } from '@/components/ui/save-state';
import { say } from '@/lib/platform/words/say';
import type { ScansRequest } from '@/lib/storage/wire-inventory';
import { useAddScans } from './queries';

type Scan = ScansRequest['scans'][number];

const BATCH = 100;
const RETRY_MS = 4_000;
const keyOf = (countId: string) => `furcula-scans-${countId}`;

function readKept(countId: string): Scan[] {
  try {
    const kept = JSON.parse(localStorage.getItem(keyOf(countId)) ?? '[]') as Scan[];
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

/**
 * Scans wait here until the server has them: kept on this device, sent in batches, again when the connection returns.
 * Each carries its own id, so that one that is sent twice counts once.
 */
export function useScanOutbox(countId: string) {
  const waiting = useRef<Scan[]>([]);
  const [number, setNumber] = useState(0);
  const [isOffline, setOffline] = useState(false);
  const [refused, setRefused] = useState<string[]>([]);
  const { mutateAsync, isPending } = useAddScans(countId);
  const isSending = useRef(false);

  const keep = useCallback(() => {
    localStorage.setItem(keyOf(countId), JSON.stringify(waiting.current));
    setNumber(waiting.current.length);
  }, [countId]);

  const send = useCallback(async () => {
    if (isSending.current) return;
    isSending.current = true;
    try {
      while (waiting.current.length > 0) {
        const batch = waiting.current.slice(0, BATCH);
        const sent = new Set(batch.map((scan) => scan.id));
        try {
          await mutateAsync({ scans: batch });
          setOffline(false);
        } catch (error) {
          const problem = problemOf(error);
          // Without an answer they are sent again; what the server refuses would be refused for ever.
          if ((problem.status ?? 0) < 400 || (problem.status ?? 0) >= 500) return setOffline(true);
          const codes = batch.map((scan) => scan.code).join(', ');
          setRefused((before) => [
            ...before,
            say('Not taken: {codes}. {title}', { codes, title: problem.title ?? '' }),
          ]);
        }
        waiting.current = waiting.current.filter((scan) => !sent.has(scan.id));
        keep();
      }
    } finally {
      isSending.current = false;
    }
  }, [mutateAsync, keep]);

  useEffect(() => {
    waiting.current = readKept(countId);
    keep();
    void send();
    const timer = setInterval(() => void send(), RETRY_MS);
    return () => clearInterval(timer);
  }, [countId, keep, send]);

  const add = (scan: Pick<Scan, 'code' | 'unitId' | 'position'>) => {
    waiting.current.push({ ...scan, id: crypto.randomUUID(), scannedAt: new Date().toISOString() });
    keep();
    void send();
  };
  const status: SaveStatus =
    number === 0
      ? { kind: 'saved' }
      : isOffline || !isPending
        ? { kind: 'not-sent', changes: number }
        : { kind: 'saving' };
  return { add, status, refused };
}
