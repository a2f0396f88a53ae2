'use client';

import { useEffect, useId, useState } from 'react';
import { actOf } from '@/components/ui/shortcuts/table';
import { SCALE_NOT_STATED } from '@/lib/bench/catalogue/types';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { phrases, say } from '@/lib/platform/words/say';
import { useBench } from './bench-context';
import classes from './bench-field.module.css';
import { focusDictation, focusNext } from './focus';
import type { LiveValue } from './pending';
import { useDraft } from './use-draft';

interface ControlProps {
  field: FieldId;
  held: LiveValue | undefined;
  aria: { id: string; 'aria-describedby': string | undefined; 'aria-invalid': true | undefined };
  onError: (message: string | null) => void;
  onDrafting: (drafting: boolean) => void;
}

const HINTS: Partial<Record<string, string>> = phrases({
  size: 'length × width',
  bursa: '5 × 3, none, not looked for',
  items: 'parted by commas',
  vials: '1 liver and heart, vial 2 muscle',
  skull: '80, or fully ossified',
});

/** A value that is typed: numbers, sizes, scores, words. */
export function TextControl({ field, held, aria, onError, onDrafting }: ControlProps) {
  const { mayWrite, write } = useBench();
  const spec = FIELDS[field];
  const heldScale = spec.kind === 'score' && held ? (held.value as { scale: string }).scale : null;
  const [method, setMethod] = useState<string | null>(null);
  const [scale, setScale] = useState<string | null>(null);
  const chosen = { method: method ?? held?.method ?? null, scale: scale ?? heldScale };
  const draft = useDraft(field, held, chosen);
  useEffect(() => onError(draft.error), [draft.error, onError]);
  useEffect(() => onDrafting(draft.drafting), [draft.drafting, onDrafting]);

  const rewrite = (value: LiveValue['value'], by: string | null) =>
    write([{ field, value, method: by, verbatim: held?.verbatim ?? null, correction: true }]);
  const chooseMethod = (next: string | null) => {
    setMethod(next);
    const value = draft.newest();
    if (value !== undefined) rewrite(value, next);
  };
  const chooseScale = (next: string) => {
    setScale(next);
    const value = draft.newest();
    if (value !== undefined) rewrite({ ...(value as { score: number }), scale: next }, null);
  };
  const shared = {
    ...aria,
    className: classes.input,
    'data-bench-control': true,
    autoComplete: 'off',
    value: draft.text,
    readOnly: !mayWrite,
    placeholder: HINTS[spec.form],
    onBlur: () => void draft.commit(),
    onKeyDown: draft.onKeyDown,
  };
  return (
    <>
      <label className={classes.label} htmlFor={aria.id}>
        {spec.label}
      </label>
      <span className={classes.row}>
        {spec.form === 'clause' ? (
          <textarea {...shared} rows={3} onChange={(event) => draft.type(event.currentTarget.value)} />
        ) : (
          <span className={classes.measure} data-numeric={spec.kind === 'number' || undefined}>
            <input
              {...shared}
              type="text"
              inputMode={spec.kind === 'number' ? 'decimal' : undefined}
              aria-label={
                spec.unit === null
                  ? undefined
                  : say('{label} in {unit}', { label: spec.label, unit: spec.unit })
              }
              onFocus={(event) => event.currentTarget.select()}
              onChange={(event) => draft.type(event.currentTarget.value)}
            />
            {spec.unit && (
              <span className={classes.unit} aria-hidden="true">
                {spec.unit}
              </span>
            )}
          </span>
        )}
        {spec.methods.length > 0 && (
          <Select
            label={say('Method of {label}', { label: spec.label.toLowerCase() })}
            value={chosen.method}
            empty={say('method')}
            options={spec.methods}
            onChange={chooseMethod}
          />
        )}
        {spec.kind === 'score' && (
          <Select
            label={say('Scale of {label}', { label: spec.label.toLowerCase() })}
            value={chosen.scale === SCALE_NOT_STATED ? null : chosen.scale}
            empty={say('scale')}
            options={spec.scales.filter(({ id }) => id !== SCALE_NOT_STATED)}
            onChange={(next) => chooseScale(next ?? SCALE_NOT_STATED)}
          />
        )}
      </span>
    </>
  );
}

function Select({
  label,
  value,
  empty,
  options,
  onChange,
}: {
  label: string;
  value: string | null;
  empty: string;
  options: readonly { id: string; label: string }[];
  onChange: (id: string | null) => void;
}) {
  const { mayWrite } = useBench();
  return (
    <select
      className={classes.select}
      aria-label={label}
      value={value ?? ''}
      disabled={!mayWrite}
      onChange={(event) => onChange(event.currentTarget.value === '' ? null : event.currentTarget.value)}
    >
      <option value="">{empty}</option>
      {options.map((option) => (
        <option key={option.id} value={option.id}>
          {option.label}
        </option>
      ))}
    </select>
  );
}

/** One of a few: typing its first letters chooses it. */
export function ChoiceControl({ field, held, aria }: ControlProps) {
  const { mayWrite, write } = useBench();
  const spec = FIELDS[field];
  return (
    <>
      <label className={classes.label} htmlFor={aria.id}>
        {spec.label}
      </label>
      <select
        {...aria}
        className={classes.select}
        data-bench-control
        value={held === undefined ? '' : String(held.value)}
        disabled={!mayWrite}
        onKeyDown={(event) => {
          const act = actOf('value', event);
          if (act === 'value.write') {
            event.preventDefault();
            focusNext(event.currentTarget);
          } else if (act === 'value.leave') focusDictation();
        }}
        onChange={(event) => {
          const value = event.currentTarget.value;
          write([
            { field, value: value === '' ? null : value, method: null, verbatim: null, correction: true },
          ]);
        }}
      >
        <option value="">{say('not recorded')}</option>
        {spec.choices.map((choice) => (
          <option key={choice.id} value={choice.id}>
            {choice.label}
          </option>
        ))}
      </select>
    </>
  );
}

/** Several of a few. */
export function ChoicesControl({ field, held, aria }: ControlProps) {
  const { mayWrite, write } = useBench();
  const group = useId();
  const spec = FIELDS[field];
  const chosen = (held?.value ?? []) as string[];
  const toggle = (id: string, on: boolean) => {
    const next = on ? [...chosen, id] : chosen.filter((one) => one !== id);
    write([
      { field, value: next.length === 0 ? null : next, method: null, verbatim: null, correction: true },
    ]);
  };
  return (
    <fieldset className={classes.choices} aria-describedby={aria['aria-describedby']}>
      <legend className={classes.label}>{spec.label}</legend>
      {spec.choices.map((choice, at) => (
        <label key={choice.id} className={classes.choice}>
          <input
            id={at === 0 ? aria.id : `${group}-${choice.id}`}
            data-bench-control={at === 0 || undefined}
            type="checkbox"
            checked={chosen.includes(choice.id)}
            disabled={!mayWrite}
            onKeyDown={(event) => {
              if (actOf('value', event) === 'value.leave') focusDictation();
            }}
            onChange={(event) => toggle(choice.id, event.currentTarget.checked)}
          />
          {choice.label}
        </label>
      ))}
    </fieldset>
  );
}
