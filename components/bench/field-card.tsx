'use client';

import { useDeferredValue, useEffect, useSyncExternalStore } from 'react';
import { whenIdle, whenOpened } from '@/components/ui/later';
import type { Comparison } from '@/lib/bench/comparison';
import type { FieldId } from '@/lib/bench/fields';
import { say } from '@/lib/platform/words/say';
import { useBench } from './bench-context';
import classes from './field-card.module.css';
import type { LiveRecord } from './pending';

const FieldAbout = whenOpened(() => import('./field-about').then((module) => module.FieldAbout));

/** About the field in hand: what it is, how it is measured, where the value lies among others, what stood before. */
export function FieldCard({
  live,
  earlier,
  against,
}: {
  live: LiveRecord;
  earlier: Partial<Record<FieldId, number>>;
  against: Comparison;
}) {
  const bench = useBench();
  const inHand = useDeferredValue(useSyncExternalStore(bench.inHand.subscribe, bench.inHand.get, () => null));
  useEffect(() => whenIdle(FieldAbout.prepare), []);
  return (
    <section className={classes.card} aria-label={say('About the field in hand')}>
      {inHand === null ? (
        <p className={classes.what}>
          {say('Go into a field to see how it is measured and where its value lies among the birds here.')}
        </p>
      ) : (
        <FieldAbout
          field={inHand.field}
          draft={inHand.draft}
          live={live}
          earlier={earlier[inHand.field] ?? 0}
          against={against}
        />
      )}
    </section>
  );
}
