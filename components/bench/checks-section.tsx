'use client';

import { Button } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { TextField } from '@/components/ui/plain-controls';
import { sayWith } from '@/components/ui/say-with';
import { StripPlot } from '@/components/ui/strip-plot';
import { ToneIcon } from '@/components/ui/tone-icon';
import type { Comparison } from '@/lib/bench/comparison';
import { type BenchValues, FIELDS, type FieldId, NUMBER_FIELDS } from '@/lib/bench/fields';
import { peersOf } from '@/lib/bench/peers';
import { stripPlot } from '@/lib/bench/plausibility';
import { say } from '@/lib/platform/words/say';
import classes from './checks.module.css';
import type { LiveWarning } from './live';

/** Every warning with its figure among the others, and why it stands where somebody has said so. */
export function ChecksSection({
  warnings,
  values,
  against,
  mayWrite,
  onExplain,
}: {
  warnings: readonly LiveWarning[];
  values: BenchValues;
  against: Comparison;
  mayWrite: boolean;
  onExplain: (key: string, reason: string | null) => void;
}) {
  if (warnings.length === 0) {
    return (
      <p className={classes.quiet}>
        {say('No warning. A check warns and explains; it never blocks what was seen.')}
      </p>
    );
  }
  return (
    <ul className={classes.warnings}>
      {warnings.map((warning) => (
        <li
          key={warning.key}
          className={classes.warning}
          data-explained={warning.explained !== null || undefined}
        >
          <p className={classes.sentence}>
            <ToneIcon tone={warning.explained === null ? 'attention' : 'neutral'} size={22} />
            <span>
              {warning.sentence}.{' '}
              <a
                href={`#${fieldId(warning.field)}`}
                onClick={(event) => {
                  event.preventDefault();
                  document.getElementById(fieldId(warning.field))?.focus();
                }}
              >
                {say('Go to {label}', { label: FIELDS[warning.field].label.toLowerCase() })}
              </a>
            </span>
          </p>
          {warning.check === 'peers' && (
            <WarningPlot field={warning.field} values={values} against={against} />
          )}
          {warning.explained !== null ? (
            <p className={classes.reason}>
              {sayWith('It stands: “{explained}” {mayWrite}', {
                explained: warning.explained,
                mayWrite: mayWrite && (
                  <Button variant="default" onClick={() => onExplain(warning.key, null)}>
                    {say('Take this back')}
                  </Button>
                ),
              })}
            </p>
          ) : (
            mayWrite && (
              <Explain onExplain={(reason) => onExplain(warning.key, reason)} label={warning.sentence} />
            )
          )}
        </li>
      ))}
    </ul>
  );
}

/** The figure of a warning among those of the other birds here. */
function WarningPlot({
  field: warned,
  values,
  against,
}: {
  field: FieldId;
  values: BenchValues;
  against: Comparison;
}) {
  const field = NUMBER_FIELDS.find((one) => one === warned);
  const value = field === undefined ? undefined : values[field];
  const group = field === undefined ? undefined : peersOf(values, against)[field];
  if (field === undefined || value === undefined || group === undefined) return null;
  const plot = stripPlot(value, group.values);
  return (
    <StripPlot
      values={group.values}
      unit={FIELDS[field].unit ?? ''}
      value={value}
      band={
        plot.usual && {
          low: plot.usual[0],
          high: plot.usual[1],
          label: say('usual here (modified z up to 3.5)'),
        }
      }
      unusual
      summary={`${group.values.length} ${group.name}`}
    />
  );
}

function Explain({ label, onExplain }: { label: string; onExplain: (reason: string) => void }) {
  const [reason, setReason] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (reason.trim().length >= 3) onExplain(reason.trim());
  };
  return (
    <form className={classes.explain} onSubmit={submit}>
      <TextField
        label={say('Why it stands')}
        ariaLabel={say('Why it stands: {label}', { label })}
        value={reason}
        onChange={setReason}
      />
      <Button type="submit" variant="default" disabled={reason.trim().length < 3}>
        {say('It stands')}
      </Button>
    </form>
  );
}
