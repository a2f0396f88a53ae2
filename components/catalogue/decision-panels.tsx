'use client';

import { Button } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { LongTextField } from '@/components/ui/plain-controls';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { KeyCaps } from '@/components/ui/shortcuts/key-caps';
import { actOf } from '@/components/ui/shortcuts/table';
import type { ReviewRecord } from '@/lib/catalogue/wire';
import { say } from '@/lib/platform/words/say';
import { type Remark, RemarkLines } from './remark-lines';
import classes from './review.module.css';
import { useApprove, useReturn } from './review-queries';

export type Mode = 'read' | 'approve' | 'return';

export type DecisionProps = {
  record: ReviewRecord;
  mode: Mode;
  onMode: (mode: Mode) => void;
  remarks: Remark[];
  onRemarks: (remarks: Remark[]) => void;
  /** The remark that was added last: there one goes on writing. */
  newest: string | null;
  onAddRemark: () => void;
  onApproved: (catalogueNumber: string) => void;
  onReturned: () => void;
};

/** What is in the way, with a field for what words can explain, and the approval. */
export function ApprovePanel({ record, onMode, onApproved }: DecisionProps) {
  const approve = useApprove(record.id);
  const [explanations, setExplanations] = useState<Record<string, string>>({});
  const panel = useRef<HTMLFormElement>(null);
  const stuck = record.blocks.filter(({ explainable }) => !explainable);
  const open = record.blocks.filter(({ explainable }) => explainable);
  useEffect(() => panel.current?.querySelector<HTMLElement>('textarea, button')?.focus(), []);
  const problem = problemOf(approve.error);
  return (
    <form
      aria-label={say('Approve and number')}
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

/** A field for each point that words can explain. */
function Explanations({
  points,
  values,
  onChange,
}: {
  points: ReviewRecord['blocks'];
  values: Readonly<Record<string, string>>;
  onChange: (code: string, text: string) => void;
}) {
  return points.map((point) => (
    <LongTextField
      key={point.code}
      name={`explanations.${point.code}`}
      label={point.sentence}
      help={say('Why it is right all the same. The words are kept with the approval.')}
      required
      value={values[point.code] ?? ''}
      onChange={(text) => onChange(point.code, text)}
    />
  ));
}

/** Remarks on fields, and the return. */
export function ReturnPanel({
  record,
  onMode,
  remarks,
  onRemarks,
  newest,
  onAddRemark,
  onReturned,
}: DecisionProps) {
  const giveBack = useReturn(record.id);
  const written = remarks.filter(({ remark }) => remark.trim() !== '');
  const problem = problemOf(giveBack.error);
  return (
    <form
      aria-label={say('Return with remarks')}
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
        <RemarkLines remarks={remarks} newest={newest} onChange={onRemarks} onAdd={onAddRemark} />
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
