'use client';

import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import { actOf } from '@/components/ui/shortcuts/table';
import { useKeyArea } from '@/components/ui/shortcuts/use-shortcuts';
import { writeFieldText } from '@/lib/bench/dictation/write-field';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { say } from '@/lib/platform/words/say';
import { useBench } from './bench-context';
import { focusDictation, focusNext } from './focus';
import { grammar } from './later-code';
import type { LiveValue } from './pending';

/** What stands in the input of a score: its figure alone; the scale has a choice of its own beside it. */
const shownText = (field: FieldId, held: LiveValue | undefined): string =>
  FIELDS[field].kind === 'score' && held !== undefined
    ? String((held.value as { score: number }).score)
    : writeFieldText(field, held?.value);

/**
 * The text of one field while it is typed: kept apart from the record until it is left or Enter is pressed, so that
 * nobody else's change touches a keystroke. What is no value of the field stays in the input with what is wrong.
 */
export function useDraft(
  field: FieldId,
  held: LiveValue | undefined,
  chosen: { method: string | null; scale: string | null },
) {
  const { write, inHand, scales, mayWrite } = useBench();
  useKeyArea('value', mayWrite);
  const shown = shownText(field, held);
  const [draft, showDraft] = useState<string | null>(null);
  // Enter writes and moves the focus on, which commits again before the next paint: the text must be gone by then.
  const typed = useRef<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  // Until the record holds what was just written: a method or scale chosen right after belongs to it.
  const written = useRef<LiveValue['value'] | undefined>(undefined);
  const commitRef = useRef<() => boolean>(() => true);
  /** Whether what was typed is to be written as soon as it can be read. */
  const waits = useRef(false);

  const setDraft = (text: string | null) => {
    typed.current = text;
    showDraft(text);
  };
  const type = (text: string) => {
    if (grammar.now() === null) void grammar.come().catch(() => undefined);
    waits.current = false;
    setDraft(text);
    setError(null);
    inHand.set({ field, draft: text });
  };

  const writeWhenRead = () =>
    grammar.come().then(
      () => waits.current && commitRef.current(),
      () =>
        waits.current &&
        setError(say('What reads this could not be loaded. Try again when there is a connection.')),
    );

  /** Whether the field is settled: nothing typed, or what was typed is written or will be once it can be read. */
  const commit = (): boolean => {
    if (typed.current === null) return true;
    const text = typed.current.trim();
    if (text === shown) {
      setDraft(null);
      return true;
    }
    if (text === '') {
      if (held !== undefined) write([{ field, value: null, method: null, verbatim: null, correction: true }]);
      setDraft(null);
      return true;
    }
    const scale = chosen.scale === null ? scales : { ...scales, [field]: chosen.scale };
    const reading = grammar.now();
    if (reading === null) {
      waits.current = true;
      void writeWhenRead();
      return true;
    }
    const read = reading.readFieldText(field, text, { scales: scale });
    if (!read.ok) {
      setError(read.message);
      return false;
    }
    const value = read.value as NonNullable<LiveValue['value']>;
    const verbatim = text === String(value) ? null : read.verbatim;
    write([{ field, value, method: read.method ?? chosen.method, verbatim, correction: true }]);
    written.current = value;
    waits.current = false;
    setDraft(null);
    return true;
  };

  useEffect(() => {
    if (held !== undefined) written.current = undefined;
  }, [held]);
  // A page that is left mid-word keeps the word.
  useEffect(() => {
    commitRef.current = commit;
  });
  useEffect(() => {
    const leave = () => void (document.visibilityState === 'hidden' && commitRef.current());
    document.addEventListener('visibilitychange', leave);
    return () => document.removeEventListener('visibilitychange', leave);
  }, []);

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const act = actOf('value', event);
    if (act === 'value.write' && !event.shiftKey && !event.nativeEvent.isComposing) {
      event.preventDefault();
      if (commit()) focusNext(event.currentTarget);
    } else if (act === 'value.leave') {
      event.preventDefault();
      if (draft === null) focusDictation();
      setDraft(null);
      setError(null);
      inHand.set({ field, draft: null });
    }
  };

  return {
    text: draft ?? shown,
    drafting: draft !== null && draft.trim() !== shown,
    error,
    type,
    commit,
    onKeyDown,
    newest: () => written.current ?? held?.value,
  };
}
