'use client';

import { Button } from '@mantine/core';
import { whenSeen } from '@/components/ui/later';
import { Moment } from '@/components/ui/moment';
import { CAUTION_IDS, CAUTION_TITLES, type CautionId } from '@/lib/bench/caution-titles';
import type { PreparationStyle, StyleStep } from '@/lib/bench/styles';
import { say } from '@/lib/platform/words/say';
import type { LiveRecord } from './pending';
import classes from './steps.module.css';

const Cautions = whenSeen(() => import('./cautions').then((module) => module.Cautions), 2);

export const nextStepOf = (style: PreparationStyle, steps: LiveRecord['steps']): StyleStep | null =>
  style.steps.find(({ id }) => steps[id] === undefined) ?? null;

/** The step in hand, with what it can do to you and one button. */
export function StepInHand({
  style,
  steps,
  mayWrite,
  onMark,
}: {
  style: PreparationStyle;
  steps: LiveRecord['steps'];
  mayWrite: boolean;
  onMark: (step: string, done: boolean) => void;
}) {
  const step = nextStepOf(style, steps);
  const done = style.steps.filter(({ id }) => steps[id] !== undefined).length;
  return (
    <section className={classes.now} aria-label={say('The step in hand')}>
      <p className={classes.count}>
        {say('{done} of {length} steps done', { done, length: style.steps.length })}
      </p>
      {step === null ? (
        <p>{say('Every step of this style is done.')}</p>
      ) : (
        <>
          <h2 className={classes.title}>{step.label}</h2>
          {step.detail && <p className={classes.detail}>{step.detail}</p>}
          {mayWrite && (
            <Button size="md" onClick={() => onMark(step.id, true)}>
              {say('Step done')}
            </Button>
          )}
          {step.cautions.length > 0 && (
            <details className={classes.cautions}>
              <summary>
                {say('Cautions for this step: {titlesOf}', { titlesOf: titlesOf(step.cautions) })}
              </summary>
              <Cautions ids={step.cautions} />
            </details>
          )}
        </>
      )}
    </section>
  );
}

const titlesOf = (ids: readonly CautionId[]): string =>
  CAUTION_IDS.filter((id) => ids.includes(id))
    .map((id) => CAUTION_TITLES[id].toLowerCase())
    .join('; ');

/** All steps of the style as a checklist. */
export function StepList({
  style,
  steps,
  mayWrite,
  onMark,
}: {
  style: PreparationStyle;
  steps: LiveRecord['steps'];
  mayWrite: boolean;
  onMark: (step: string, done: boolean) => void;
}) {
  const cautions = [...new Set(style.steps.flatMap((step) => step.cautions))];
  return (
    <>
      <ol className={classes.list}>
        {style.steps.map((step) => {
          const mark = steps[step.id];
          return (
            <li key={step.id}>
              <label className={classes.step} data-done={mark !== undefined || undefined}>
                <input
                  type="checkbox"
                  checked={mark !== undefined}
                  disabled={!mayWrite}
                  onChange={(event) => onMark(step.id, event.currentTarget.checked)}
                />
                <span>
                  {step.label}
                  {mark && (
                    <span className={classes.mark}>
                      {mark.by.name}, <Moment at={mark.at} show="both" />
                    </span>
                  )}
                </span>
              </label>
            </li>
          );
        })}
      </ol>
      {cautions.length > 0 && (
        <details className={classes.cautions}>
          <summary>{say('All cautions of this style')}</summary>
          <Cautions ids={cautions} />
        </details>
      )}
      <p className={classes.mark}>
        {say('Version {version} of “{label}”. Source: {source}.', {
          version: style.version,
          label: style.label,
          source: style.source,
        })}
      </p>
    </>
  );
}
