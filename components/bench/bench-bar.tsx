'use client';

import { Button } from '@mantine/core';
import type { ReactNode } from 'react';
import { problemOf } from '@/components/ui/problem';
import { SaveState, type SaveStatus } from '@/components/ui/save-state';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { sayFieldValue } from '@/lib/bench/say';
import { say } from '@/lib/platform/words/say';
import classes from './bench-record.module.css';
import type { ChangeQueue, QueueState } from './change-queue';
import { DictationLine } from './dictation-line';
import type { LiveRecord, PendingChange } from './pending';

function statusOf(state: QueueState): SaveStatus {
  if (state.stopped !== null) return { kind: 'failed', why: state.stopped.title };
  if (state.waiting !== null) return { kind: 'not-sent', changes: state.pending.length };
  if (state.pending.length > 0) return { kind: 'saving' };
  return state.lastSavedAt === null ? { kind: 'saved' } : { kind: 'saved', at: state.lastSavedAt };
}

const sayChange = (change: PendingChange): string => {
  if (change.kind === 'entry') {
    const value =
      change.value === null ? say('taken away') : sayFieldValue(change.field, change.value, change.method);
    return `${FIELDS[change.field].label}: ${value}`;
  }
  return change.kind === 'step' ? say('Step {step}', { step: change.step }) : say('An explanation');
};

/** Always in reach at the foot of the page: the dictation line, and whether what was typed is safe. */
export function BenchBar({
  live,
  order,
  queue,
  state,
  undoProblem,
  card,
  onUndo,
  onStepDone,
}: {
  live: LiveRecord;
  order: readonly FieldId[];
  queue: ChangeQueue;
  state: QueueState;
  undoProblem: unknown;
  /** About the field in hand, where there is no room beside the record. */
  card: ReactNode;
  onUndo: () => void;
  onStepDone: () => void;
}) {
  return (
    <div className={classes.bar}>
      {card && (
        <details className={classes.card}>
          <summary>{say('About the field in hand')}</summary>
          {card}
        </details>
      )}
      {state.stopped && (
        <div role="alert" className={classes.stopped}>
          <p>
            {say('{title} Kept on this device: {pending}.', {
              title: state.stopped.title,
              pending: state.pending.map(sayChange).join('; '),
            })}
          </p>
          <Button variant="default" onClick={queue.retry}>
            {say('Send again')}
          </Button>
          <Button variant="default" onClick={() => queue.discard()}>
            {say('Give these changes up')}
          </Button>
        </div>
      )}
      {state.refused.length > 0 && (
        <div role="alert" className={classes.stopped}>
          <p>
            {say('Not written: {refused}', {
              refused: state.refused
                .map(({ change, message }) => `${sayChange(change)} (${message})`)
                .join('; '),
            })}
          </p>
          <Button variant="default" onClick={queue.forgetRefused}>
            {say('Understood')}
          </Button>
        </div>
      )}
      <DictationLine
        live={live}
        order={order}
        status={
          <>
            <SaveState status={statusOf(state)} />
            {state.waiting?.status === 401 && <p className={classes.problem}>{state.waiting.title}</p>}
            {undoProblem != null && (
              <p role="alert" className={classes.problem}>
                {problemOf(undoProblem).title}
              </p>
            )}
          </>
        }
        onUndo={onUndo}
        onStepDone={onStepDone}
      />
    </div>
  );
}
