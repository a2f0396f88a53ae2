'use client';

import { Button } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { KeyCaps } from '@/components/ui/shortcuts/key-caps';
import { actOf } from '@/components/ui/shortcuts/table';
import type { ReviewRecord } from '@/lib/catalogue/wire';
import { countOf, say } from '@/lib/platform/words/say';
import { useApprove, useReturn } from './queries';
import { type Remark, RemarkLines } from './remark-lines';
import classes from './review.module.css';
import { Explanations } from './review-points';

export type Mode = 'read' | 'approve' | 'return';

type BarProps = {
  record: ReviewRecord;
  mode: Mode;
  onMode: (mode: Mode) => void;
  remarks: Remark[];
  onRemarks: (remarks: Remark[]) => void;
  onAddRemark: () => void;
  onApproved: (catalogueNumber: string) => void;
  onReturned: () => void;
};

/** The decision, always in sight: approve and number, or return with remarks. */
export function DecisionBar(props: BarProps) {
  const { record, mode, onMode } = props;
  if (!record.abilities.approve && !record.abilities.return) return null;
  return (
    <section className={classes.decision} aria-label={say('Decision')}>
      {mode === 'approve' ? <ApprovePanel {...props} /> : null}
      {mode === 'return' ? <ReturnPanel {...props} /> : null}
      {mode === 'read' ? (
        <div className={classes.bar}>
          <p className={classes.say}>
            {record.blocks.length === 0
              ? say('Nothing stands in the way.')
              : say('{of} in the way: {sentence}', {
                  of: countOf(record.blocks.length, 'point'),
                  sentence: record.blocks[0]?.sentence,
                })}
            <br />
            <span className={classes.keys}>
              {sayWith('{keycaps} approve {keycaps2} return {keycaps3} next record', {
                keycaps: <KeyCaps id="review.approve" />,
                keycaps2: <KeyCaps id="review.return" />,
                keycaps3: <KeyCaps id="review.next" />,
              })}
            </span>
          </p>
          <Button size="lg" disabled={!record.abilities.approve} onClick={() => onMode('approve')}>
            {say('Approve and number')}
          </Button>
          <Button
            size="lg"
            variant="default"
            disabled={!record.abilities.return}
            onClick={() => onMode('return')}
          >
            {say('Return with remarks')}
          </Button>
        </div>
      ) : null}
    </section>
  );
}

function ApprovePanel({ record, onMode, onApproved }: BarProps) {
  const approve = useApprove(record.id);
  const [explanations, setExplanations] = useState<Record<string, string>>({});
  const panel = useRef<HTMLFormElement>(null);
  const stuck = record.blocks.filter(({ explainable }) => !explainable);
  const open = record.blocks.filter(({ explainable }) => explainable);
  useEffect(() => panel.current?.querySelector<HTMLElement>('textarea, button')?.focus(), []);
  const problem = problemOf(approve.error);
  return (
    <form
      ref={panel}
      onSubmit={(event) => {
        event.preventDefault();
        approve.mutate(
          { version: record.version, explanations },
          { onSuccess: ({ catalogueNumber }) => onApproved(catalogueNumber) },
        );
      }}
    >
      <div className={classes.panel}>
        {approve.error === null ? null : (
          <ErrorSummary
            title={problem.title}
            attempt={approve.failureCount}
            problems={
              problem.fields?.length
                ? problem.fields
                : [{ path: 'decision', message: say('Reload and look.') }]
            }
          />
        )}
        {stuck.map(({ sentence }) => (
          <p key={sentence} role="alert">
            {sentence}
          </p>
        ))}
        <Explanations
          points={open}
          values={explanations}
          onChange={(code, text) => setExplanations((before) => ({ ...before, [code]: text }))}
        />
      </div>
      <div className={classes.bar}>
        <Button
          type="submit"
          size="lg"
          loading={approve.isPending}
          disabled={stuck.length > 0 || open.some(({ code }) => !explanations[code]?.trim())}
        >
          {say('Approve and number')}
        </Button>
        <Button size="lg" variant="default" onClick={() => onMode('read')}>
          {say('Look again')}
        </Button>
        <p className={classes.say}>
          {say(
            'It gets the next catalogue number and is locked. Later changes are amendments with a reason.',
          )}
        </p>
      </div>
    </form>
  );
}

function ReturnPanel({ record, onMode, remarks, onRemarks, onAddRemark, onReturned }: BarProps) {
  const giveBack = useReturn(record.id);
  const written = remarks.filter(({ remark }) => remark.trim() !== '');
  const problem = problemOf(giveBack.error);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        giveBack.mutate(
          {
            version: record.version,
            remarks: written.map(({ field, remark }) => ({ field, remark: remark.trim() })),
          },
          { onSuccess: onReturned },
        );
      }}
      onKeyDown={(event) => {
        if (actOf('review', event) === 'review.send') event.currentTarget.requestSubmit();
      }}
    >
      <div className={classes.panel}>
        {giveBack.error === null ? null : (
          <ErrorSummary
            title={problem.title}
            attempt={giveBack.failureCount}
            problems={
              problem.fields?.length
                ? problem.fields
                : [{ path: 'decision', message: say('Reload and look.') }]
            }
          />
        )}
        <RemarkLines remarks={remarks} onChange={onRemarks} onAdd={onAddRemark} />
      </div>
      <div className={classes.bar}>
        <Button type="submit" size="lg" loading={giveBack.isPending} disabled={written.length === 0}>
          {say('Return with remarks')}
        </Button>
        <Button size="lg" variant="default" onClick={() => onMode('read')}>
          {say('Look again')}
        </Button>
        <p className={classes.say}>
          <span className={classes.keys}>
            {sayWith('{keycaps} sends it, {keycaps2} leaves it; what you wrote stays here.', {
              keycaps: <KeyCaps id="review.send" />,
              keycaps2: <KeyCaps id="review.read" />,
            })}
          </span>
        </p>
      </div>
    </form>
  );
}
