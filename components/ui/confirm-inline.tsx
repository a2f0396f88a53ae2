'use client';

import { Button } from '@mantine/core';
import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { say } from '@/lib/platform/words/say';
import classes from './confirm-inline.module.css';
import { LongTextField } from './plain-controls';

/**
 * An act that wants a second thought. The button turns into the question in its place; nothing else on the page is
 * blocked. Escape, or the way back, leaves everything as it was; focus goes to the way back and returns to the button.
 */
export function ConfirmInline({
  act,
  question,
  confirm,
  keep = say('Leave it as it is'),
  tone = 'stop',
  reason,
  busy = false,
  disabled = false,
  onConfirm,
}: {
  /** Words on the button that begins it. */
  act: string;
  /** What will happen, and whether it can be undone. */
  question: ReactNode;
  /** Plain verb on the button that does it. */
  confirm: string;
  keep?: string;
  tone?: 'stop' | 'attention' | 'lead';
  /** Asks for a reason in words; it is needed unless `optional`. */
  reason?: { label: string; optional?: boolean };
  busy?: boolean;
  disabled?: boolean;
  /** A promise keeps the question open until it settles; a rejection leaves it open. */
  onConfirm: (reason: string) => unknown;
}) {
  const [open, setOpen] = useState(false);
  const [words, setWords] = useState('');
  const [working, setWorking] = useState(false);
  const begin = useRef<HTMLButtonElement>(null);
  const back = useRef<HTMLButtonElement>(null);
  const wasOpen = useRef(false);
  const id = useId();

  useEffect(() => {
    if (open) back.current?.focus();
    else if (wasOpen.current) begin.current?.focus();
    wasOpen.current = open;
  }, [open]);

  const leave = () => {
    setOpen(false);
    setWords('');
  };
  const doIt = async () => {
    setWorking(true);
    try {
      await onConfirm(words.trim());
      leave();
    } catch {
      // The caller shows what failed; the question and the typed reason stay.
    } finally {
      setWorking(false);
    }
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'Escape') return;
    event.stopPropagation();
    leave();
  };

  if (!open) {
    return (
      <Button ref={begin} variant="default" disabled={disabled} onClick={() => setOpen(true)}>
        {act}
      </Button>
    );
  }
  const missing = reason !== undefined && !reason.optional && words.trim() === '';
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would announce a form where there is a question
    <div
      className={classes.question}
      data-tone={tone}
      role="group"
      aria-labelledby={id}
      onKeyDown={onKeyDown}
    >
      <p id={id}>{question}</p>
      {reason && (
        <LongTextField label={reason.label} required={!reason.optional} value={words} onChange={setWords} />
      )}
      <div className={classes.acts}>
        <Button color={tone} loading={working || busy} disabled={missing} onClick={doIt}>
          {confirm}
        </Button>
        <Button ref={back} variant="default" disabled={working} onClick={leave}>
          {keep}
        </Button>
      </div>
    </div>
  );
}
