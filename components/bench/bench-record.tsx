'use client';

import { useMediaQuery } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useCallback, useMemo, useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { useShortcuts } from '@/components/ui/shortcuts/use-shortcuts';
import { plainValues } from '@/lib/bench/snapshot';
import { stepFields } from '@/lib/bench/styles';
import type { BenchRecord as RecordView } from '@/lib/bench/wire';
import { say } from '@/lib/platform/words/say';
import { BenchBar } from './bench-bar';
import { BenchClocks } from './bench-clocks';
import { type Bench, BenchProvider, Cell, type FieldInHand, type NewValue } from './bench-context';
import classes from './bench-record.module.css';
import { nameChange } from './change-queue';
import { FieldCard } from './field-card';
import { focusDictation } from './focus';
import { judging } from './later-code';
import { firstWarnings, heldValues, liveWarnings } from './live';
import { type LiveRecord, layOver, type PendingChange } from './pending';
import { benchRecordOptions, useRecordAct } from './queries';
import { RecordSections } from './record-sections';
import { nextStepOf, StepInHand } from './steps';
import { useChangeQueue } from './use-change-queue';

interface Me {
  id: string;
  name: string;
}

/** The bench desk of one record. */
export function BenchRecord({ id, me }: { id: string; me: Me }) {
  const record = useQuery(benchRecordOptions(id));
  if (record.data !== undefined) return <Desk record={record.data} me={me} />;
  if (record.error) {
    return (
      <ErrorState
        what={say('This bench record could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  return <Loading what={say('Loading the bench record')} lines={8} />;
}

/** The record with this person's unsent changes over it, and what follows from its values. */
function useLive(record: RecordView, pending: readonly PendingChange[], me: Me) {
  const { values, steps, overrides, comparison, warnings, derived } = record;
  const judge = judging.useNow();
  const live = useMemo<LiveRecord>(
    () => layOver({ values, steps, overrides }, pending, me),
    [values, steps, overrides, pending, me],
  );
  return useMemo(() => {
    const plain = plainValues(heldValues(live));
    const judged = judge === null ? { warnings, derived } : judge(plain, comparison);
    const said = liveWarnings(live, judged.warnings);
    return { live, plain, warnings: said, first: firstWarnings(said), derived: judged.derived };
  }, [live, comparison, judge, warnings, derived]);
}

function Desk({ record, me: { id: meId, name } }: { record: RecordView; me: Me }) {
  const me = useMemo(() => ({ id: meId, name }), [meId, name]);
  const [queue, state] = useChangeQueue(record.id, me.id);
  const shown = useLive(record, state.pending, me);
  const undo = useRecordAct(record.id, 'undo');
  const wide = useMediaQuery('(min-width: 75em)', true) ?? true;
  const [inHand] = useState(() => new Cell<FieldInHand | null>(null));
  const mayWrite = record.abilities.write;

  const add = useCallback(
    (changes: readonly PendingWithout[]) =>
      queue.add(
        changes.map((change) => ({ ...change, key: nameChange(), atMs: Date.now() }) as PendingChange),
      ),
    [queue],
  );
  const bench = useMemo<Bench>(
    () => ({
      recordId: record.id,
      meId,
      mayWrite,
      scales: record.scales,
      inHand,
      write: (values: readonly NewValue[]) => add(values.map((value) => ({ kind: 'entry', ...value }))),
    }),
    [record.id, meId, mayWrite, record.scales, inHand, add],
  );
  const markStep = useCallback((step: string, done: boolean) => add([{ kind: 'step', step, done }]), [add]);
  const explain = useCallback(
    (warning: string, reason: string | null) => add([{ kind: 'override', warning, reason }]),
    [add],
  );
  const takeBack = () => {
    if (queue.takeBackLast() === null) undo.mutate({});
  };

  useShortcuts('bench', { 'bench.dictation': focusDictation });

  const order = useMemo(() => stepFields(record.style), [record.style]);
  const times = { ...record.times, ...timesFrom(shown.live) };
  const card = <FieldCard live={shown.live} earlier={record.earlier} against={record.comparison} />;
  return (
    <BenchProvider value={bench}>
      <div data-view="bench" className={classes.bench}>
        <div className={classes.page}>
          <div className={classes.main}>
            <RecordSections
              record={record}
              shown={shown}
              unsent={state.pending.length}
              onMark={markStep}
              onExplain={explain}
            />
          </div>
          <aside className={classes.aside} aria-label={say('At hand')}>
            <div className={classes.hold}>
              <BenchClocks times={times} settings={record.clockSettings} />
              <StepInHand
                style={record.style}
                steps={shown.live.steps}
                mayWrite={mayWrite}
                onMark={markStep}
              />
              {wide && card}
            </div>
          </aside>
        </div>
        <BenchBar
          live={shown.live}
          order={order}
          queue={queue}
          state={state}
          undoProblem={undo.error}
          card={wide ? null : card}
          onUndo={takeBack}
          onStepDone={() => {
            const next = nextStepOf(record.style, shown.live.steps);
            if (next !== null) markStep(next.id, true);
          }}
        />
      </div>
    </BenchProvider>
  );
}

type PendingWithout = PendingChange extends infer Change
  ? Change extends PendingChange
    ? Omit<Change, 'key' | 'atMs'>
    : never
  : never;

/** The clocks follow the steps, also those that are not sent yet. */
const timesFrom = ({ steps }: LiveRecord) => ({
  workableAt: steps.thaw?.at ?? null,
  tissueTakenAt: steps.tissue?.at ?? null,
});

export type Shown = ReturnType<typeof useLive>;
