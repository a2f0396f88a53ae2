'use client';

import { IconAlertTriangle } from '@tabler/icons-react';
import { type ReactNode, useId } from 'react';
import { say } from '@/lib/platform/words/say';
import { fieldId } from './field-id';
import classes from './labelled-field.module.css';

/** What a control inside a LabelledField has to carry. */
export type FieldAria = {
  id: string;
  'aria-describedby': string | undefined;
  'aria-invalid': true | undefined;
  'aria-required': true | undefined;
};

export type FieldWords = {
  label: string;
  /** Path of the field in the record; gives the id that ErrorSummary points at. */
  name?: string;
  unit?: string;
  /** What it is, in one line. */
  help?: ReactNode;
  /** How it is measured, with its source; opens on demand. */
  method?: ReactNode;
  /** Not accepted: what is wrong and what would be right. */
  error?: ReactNode;
  /** Accepted, but worth a look: the reason and the figure. */
  warning?: ReactNode;
  required?: boolean;
};

/** A control with its label, unit and help before it, warnings and errors after it, all tied together. */
export function LabelledField({
  label,
  name,
  unit,
  help,
  method,
  error,
  warning,
  required = false,
  children,
}: FieldWords & { children: (aria: FieldAria) => ReactNode }) {
  const own = useId();
  const id = name ? fieldId(name) : own;
  const described = [help && `${id}-help`, warning && `${id}-warning`, error && `${id}-error`].filter(
    Boolean,
  );
  return (
    <div className={classes.field} data-error={error ? true : undefined}>
      <label htmlFor={id} className={classes.label}>
        {label}
        {unit && <span className={classes.unit}>{say(' in {unit}', { unit })}</span>}
        {required && <span className={classes.unit}>{say(' (needed)')}</span>}
      </label>
      {help && (
        <p id={`${id}-help`} className={classes.help}>
          {help}
        </p>
      )}
      {method && (
        <details className={classes.method}>
          <summary>{say('How it is measured')}</summary>
          <div>{method}</div>
        </details>
      )}
      {children({
        id,
        'aria-describedby': described.length > 0 ? described.join(' ') : undefined,
        'aria-invalid': error ? true : undefined,
        'aria-required': required || undefined,
      })}
      {warning && (
        <p id={`${id}-warning`} className={classes.warning}>
          <IconAlertTriangle size={18} stroke={1.75} aria-hidden="true" />
          <span>{warning}</span>
        </p>
      )}
      {error && (
        <p id={`${id}-error`} className={classes.error}>
          <IconAlertTriangle size={18} stroke={1.75} aria-hidden="true" />
          <span>{error}</span>
        </p>
      )}
    </div>
  );
}

/** A number with its unit, typed as text so that nothing is rounded or lost on the way. */
export function MeasureField({
  value,
  onChange,
  onBlur,
  disabled,
  inputMode = 'decimal',
  ...words
}: FieldWords & {
  value: string;
  onChange: (value: string) => void;
  onBlur?: () => void;
  disabled?: boolean;
  inputMode?: 'decimal' | 'numeric';
}) {
  return (
    <LabelledField {...words} unit={undefined} label={words.label}>
      {(aria) => (
        <span className={classes.measure}>
          <input
            {...aria}
            className={classes.input}
            type="text"
            inputMode={inputMode}
            autoComplete="off"
            aria-label={
              words.unit ? say('{label} in {unit}', { label: words.label, unit: words.unit }) : undefined
            }
            value={value}
            disabled={disabled}
            onChange={(event) => onChange(event.currentTarget.value)}
            onBlur={onBlur}
          />
          {words.unit && (
            <span className={classes.suffix} aria-hidden="true">
              {words.unit}
            </span>
          )}
        </span>
      )}
    </LabelledField>
  );
}
