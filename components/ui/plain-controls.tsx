'use client';

import { type ReactNode, useId } from 'react';
import { type FieldWords, LabelledField } from './labelled-field';
import classes from './plain-controls.module.css';

/*
 * The browser's own controls in our dress, for the pages that bring most with them: the component library's would be
 * some 12 kB more of first scripts (decision 34).
 */

/** Of an input that stands in a LabelledField of its own. */
export const controlClass = classes.control;

type Control = FieldWords & {
  value: string;
  onChange: (value: string) => void;
  onBlur?: () => void;
  disabled?: boolean;
};

/** One line of words, a day, an address: what its `type` says. */
export function TextField({
  value,
  onChange,
  onBlur,
  disabled,
  type = 'text',
  inputMode,
  maxLength,
  max,
  autoComplete,
  ariaLabel,
  ...words
}: Control & {
  type?: 'text' | 'date' | 'datetime-local' | 'email' | 'tel';
  inputMode?: 'numeric' | 'decimal';
  maxLength?: number;
  /** The last day of a date. */
  max?: string;
  autoComplete?: 'off';
  /** Heard instead of the label, where several fields have the same. */
  ariaLabel?: string;
}) {
  return (
    <LabelledField {...words}>
      {(aria) => (
        <input
          {...aria}
          className={classes.control}
          type={type}
          inputMode={inputMode}
          maxLength={maxLength}
          max={max}
          autoComplete={autoComplete}
          aria-label={ariaLabel}
          value={value}
          disabled={disabled}
          onChange={(event) => onChange(event.currentTarget.value)}
          onBlur={onBlur}
        />
      )}
    </LabelledField>
  );
}

/** Several lines of words; grows with them where the browser can. */
export function LongTextField({
  value,
  onChange,
  onBlur,
  disabled,
  rows = 2,
  ...words
}: Control & { rows?: number }) {
  return (
    <LabelledField {...words}>
      {(aria) => (
        <textarea
          {...aria}
          className={classes.control}
          rows={rows}
          value={value}
          disabled={disabled}
          onChange={(event) => onChange(event.currentTarget.value)}
          onBlur={onBlur}
        />
      )}
    </LabelledField>
  );
}

export type Option = { value: string; label: string };

/** One of several that are known. */
export function SelectField({
  value,
  onChange,
  onBlur,
  disabled,
  options,
  ...words
}: Control & { options: readonly Option[] }) {
  return (
    <LabelledField {...words}>
      {(aria) => (
        <select
          {...aria}
          className={classes.control}
          value={value}
          disabled={disabled}
          onChange={(event) => onChange(event.currentTarget.value)}
          onBlur={onBlur}
        >
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </LabelledField>
  );
}

/** Yes or no. */
export function TickField({
  label,
  checked,
  onChange,
}: {
  label: ReactNode;
  checked: boolean;
  onChange: (checked: boolean) => void;
}) {
  return (
    <label className={classes.choice}>
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}

/** One of a few that are all in sight. `label` is heard, not seen: a heading stands above. */
export function RadioField({
  label,
  value,
  options,
  onChange,
}: {
  label: string;
  value: string;
  options: readonly Option[];
  onChange: (value: string) => void;
}) {
  const name = useId();
  return (
    <fieldset className={classes.choices} aria-label={label}>
      {options.map((option) => (
        <label key={option.value} className={classes.choice}>
          <input
            type="radio"
            name={name}
            value={option.value}
            checked={option.value === value}
            onChange={() => onChange(option.value)}
          />
          <span>{option.label}</span>
        </label>
      ))}
    </fieldset>
  );
}
