'use client';

import { useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useReducer, useRef, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import type { SaveStatus } from '@/components/ui/save-state';
import { ApiProblem, callApi } from '@/lib/platform/api';
import { changedElements } from '@/lib/skeletons/rules/merge';
import { type BoneBook, boneBook } from '@/lib/skeletons/schema';
import { type BookDraft, type BookState, isDirty, reduceBook, startBook } from './book-state';
import { dropDraft, keepDraft, readDraft } from './kept-draft';
import { skeletonKeys } from './queries';

const SETTLE_MS = 700;
const RETRY_MS = 4_000;

/**
 * A bone book that saves itself: a moment after the last change, again when the connection returns, and on leaving. Changes
 * by others are taken in; what both changed is handed back as a conflict.
 * @param book the latest answer of the server
 */
export function useBoneBook(book: BoneBook) {
  const queries = useQueryClient();
  const [state, dispatch] = useReducer(reduceBook, book, startBook);
  const [status, setStatus] = useState<SaveStatus>({ kind: 'saved' });
  const [retry, setRetry] = useState(0);
  const sending = useRef(false);
  const latest = useRef(state);
  const dirty = isDirty(state);
  const writable = state.base.abilities.write;

  useEffect(() => {
    latest.current = state;
  }, [state]);
  // What this device kept is read once, before anything is dropped.
  useEffect(() => {
    const kept = readDraft(latest.current.base);
    if (kept !== null) dispatch({ kind: 'restore', ...kept });
  }, []);
  useEffect(() => dispatch({ kind: 'heard', book }), [book]);

  const send = useCallback(async () => {
    const { base, draft, conflict } = latest.current;
    if (sending.current || conflict !== null || !isDirty(latest.current)) return;
    sending.current = true;
    setStatus({ kind: 'saving' });
    try {
      const saved = await callApi(`/api/skeletons/bones/${base.birdId}`, {
        method: 'POST',
        body: {
          version: base.version,
          entries: draft.entries,
          explanation: draft.explanation.trim() || null,
        },
        schema: boneBook,
      });
      dispatch({ kind: 'saved', book: saved, sent: draft });
      queries.setQueryData(skeletonKeys.book(base.birdId), saved);
      // The record's version is the bench's too.
      void queries.invalidateQueries({ queryKey: ['bench'] });
      setStatus({ kind: 'saved', at: new Date().toISOString() });
    } catch (error) {
      const current = currentIn(error);
      if (current !== null) {
        dispatch({ kind: 'heard', book: current });
      } else {
        setStatus(statusOf(error, latest.current));
        // It may have been closed meanwhile.
        void queries.invalidateQueries({ queryKey: skeletonKeys.book(base.birdId) });
      }
    } finally {
      sending.current = false;
      setRetry((count) => count + 1);
    }
  }, [queries]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: a finished attempt looks again whether something is left to send
  useEffect(() => {
    if (!dirty || !writable) {
      dropDraft(state.base);
      return;
    }
    keepDraft(state);
    if (state.conflict !== null || status.kind === 'failed') return;
    const timer = setTimeout(() => void send(), status.kind === 'not-sent' ? RETRY_MS : SETTLE_MS);
    return () => clearTimeout(timer);
  }, [state, dirty, writable, retry, send, status.kind]);

  useEffect(() => {
    const now = () => void send();
    window.addEventListener('online', now);
    return () => {
      window.removeEventListener('online', now);
      now();
    };
  }, [send]);

  const edit = useCallback((draft: Partial<BookDraft>) => {
    setStatus((before) => (before.kind === 'failed' ? { kind: 'saving' } : before));
    dispatch({ kind: 'edit', draft });
  }, []);

  return {
    state,
    status: shownStatus(state.conflict === null ? status : unsent(state), dirty),
    edit,
    undo: () => dispatch({ kind: 'undo' }),
    settle: (draft: BookDraft) => dispatch({ kind: 'settle', draft }),
    sendAgain: () => {
      setStatus({ kind: 'saving' });
      void send();
    },
  };
}

/** Nothing left to send means saved, however the last attempt ended. */
function shownStatus(status: SaveStatus, dirty: boolean): SaveStatus {
  if (!dirty) return status.kind === 'saved' ? status : { kind: 'saved' };
  return status.kind === 'saved' ? { kind: 'saving' } : status;
}

/** How many changes are kept on this device only. */
const unsent = ({ base, draft }: BookState): SaveStatus => ({
  kind: 'not-sent',
  changes: Math.max(1, changedElements(base.entries, draft.entries).length),
});

function statusOf(error: unknown, state: BookState): SaveStatus {
  if (error instanceof ApiProblem && (error.problem.code === 'offline' || error.problem.status >= 500)) {
    return unsent(state);
  }
  const { title, fields = [] } = problemOf(error);
  return { kind: 'failed', why: [title, ...fields.map(({ message }) => message)].filter(Boolean).join(' ') };
}

/** The book as it stands on the server, when a save came too late. */
function currentIn(error: unknown): BoneBook | null {
  if (!(error instanceof ApiProblem) || error.problem.code !== 'stale-version') return null;
  const current = boneBook.safeParse((error.problem.data as { current?: unknown } | null)?.current);
  return current.success ? current.data : null;
}
