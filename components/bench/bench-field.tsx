'use client';

import { IconAlertTriangle } from '@tabler/icons-react';
import { memo, type ReactNode, useEffect, useState } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { sayFieldValue } from '@/lib/bench/say';
import { besideMetric } from '@/lib/platform/words/inches';
import { say } from '@/lib/platform/words/say';
import { type Bench, useBench } from './bench-context';
import classes from './bench-field.module.css';
import { ChoiceControl, ChoicesControl, TextControl } from './field-controls';
import type { LiveValue } from './pending';

const GLOW_MS = 2_500;

/** True for a moment after somebody else wrote the value. */
function useGlow(held: LiveValue | undefined, meId: string): boolean {
  const stamp = held === undefined ? '' : `${held.at} ${held.by.id}`;
  const [seen, setSeen] = useState(stamp);
  const [glows, setGlows] = useState(false);
  if (stamp !== seen) {
    setSeen(stamp);
    setGlows(held !== undefined && held.by.id !== meId);
  }
  useEffect(() => {
    if (!glows) return;
    const timer = setTimeout(() => setGlows(false), GLOW_MS);
    return () => clearTimeout(timer);
  }, [glows]);
  return glows;
}

export interface FieldProps {
  field: FieldId;
  held: LiveValue | undefined;
  /** How many earlier values there are. */
  earlier: number;
  /** The first warning that nobody has explained. */
  warning: string | null;
}

/** One field of the record: its control, and under it what one has to know of its value. */
export const BenchField = memo(function BenchField({ field, held, earlier, warning }: FieldProps) {
  const bench = useBench();
  const spec = FIELDS[field];
  const glows = useGlow(held, bench.meId);
  const [error, setError] = useState<string | null>(null);
  const [drafting, setDrafting] = useState(false);
  const id = fieldId(field);
  const notes = notesOf(bench, { field, held, earlier, drafting });
  const described = [warning && `${id}-warning`, error && `${id}-error`, notes.length > 0 && `${id}-notes`]
    .filter(Boolean)
    .join(' ');
  const aria = {
    id,
    'aria-describedby': described === '' ? undefined : described,
    'aria-invalid': error === null ? undefined : (true as const),
  };
  const Control = spec.kind === 'code' ? ChoiceControl : spec.form === 'codes' ? ChoicesControl : TextControl;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: hears of the focus of its control, offers nothing to press
    <div
      className={classes.field}
      data-changed={glows || undefined}
      data-error={error === null ? undefined : true}
      data-wide={spec.form === 'clause' || spec.form === 'codes' || undefined}
      onFocus={() => {
        if (bench.inHand.get()?.field !== field) bench.inHand.set({ field, draft: null });
      }}
    >
      <Control field={field} held={held} aria={aria} onError={setError} onDrafting={setDrafting} />
      {warning && (
        <Note id={`${id}-warning`} tone="attention">
          {warning}
        </Note>
      )}
      {error && (
        <Note id={`${id}-error`} tone="stop">
          {error}
        </Note>
      )}
      {notes.length > 0 && (
        <p id={`${id}-notes`} className={classes.notes}>
          {notes.join(' · ')}
        </p>
      )}
    </div>
  );
});

function Note({ id, tone, children }: { id: string; tone: 'attention' | 'stop'; children: ReactNode }) {
  return (
    <p id={id} className={classes.note} data-tone={tone}>
      <IconAlertTriangle size={20} stroke={1.75} aria-hidden="true" />
      <span>{children}</span>
    </p>
  );
}

function notesOf(
  { meId }: Bench,
  { field, held, earlier, drafting }: Omit<FieldProps, 'warning'> & { drafting: boolean },
): string[] {
  const others = held !== undefined && held.by.id !== meId;
  return [
    ...(drafting && others
      ? [
          say('{name} wrote {fieldValue}; yours is not written yet', {
            name: held.by.name,
            fieldValue: sayFieldValue(field, held.value, held.method),
          }),
        ]
      : []),
    ...(held?.verbatim && isConverted(field, held)
      ? [say('said: {verbatim}', { verbatim: held.verbatim })]
      : []),
    ...[besideMetric(held?.value, FIELDS[field].unit)].filter((text) => text !== null),
    ...(earlier > 0 ? [say('{earlier} earlier', { earlier })] : []),
    ...(held?.pending ? [say('not sent yet')] : []),
  ];
}

/** Inches, ounces and words became figures: what was said is shown beside them. */
const isConverted = (field: FieldId, held: LiveValue): boolean =>
  typeof held.value === 'number' &&
  !held.verbatim?.includes(String(held.value)) &&
  FIELDS[field].unit !== null;
