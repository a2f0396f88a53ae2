'use client';

import { NativeSelect, TextInput } from '@mantine/core';
import { useState } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { sayWith } from '@/components/ui/say-with';
import { TaxonName } from '@/components/ui/taxon-name';
import type { BackTo, LineOutcome } from '@/lib/loans/schema';
import type { LoanLineRecord } from '@/lib/loans/wire';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { ActPanel, type ActProps } from './act-panel';
import classes from './loans.module.css';

type Said = { outcome: LineOutcome | ''; condition: string; backTo: BackTo; amountUsed: string };
const SILENT: Said = { outcome: '', condition: '', backTo: 'where-it-lay', amountUsed: '' };

/** Lines that came back, were used up or are lost: some now, the others later. */
export function SettleForm({ loan, today, onDone }: ActProps) {
  const out = loan.lines.filter((line) => line.sentOn !== null && line.outcome === null);
  const [said, setSaid] = useState<Record<string, Said>>({});
  const [on, setOn] = useState(today);
  const of = (id: string) => said[id] ?? SILENT;
  const settled = out.filter(({ id }) => of(id).outcome !== '');
  const left = out.length - settled.length;
  return (
    <ActPanel
      loan={loan}
      title={say('Take back')}
      confirm={
        settled.length === 0
          ? say('Settle lines')
          : say('Settle {of}', { of: countOf(settled.length, 'line') })
      }
      disabled={settled.length === 0 || on === ''}
      command={() => ({
        act: 'take-back',
        body: {
          version: loan.version,
          lines: settled.map(({ id }) => {
            const { outcome, condition, backTo, amountUsed } = of(id);
            return {
              lineId: id,
              outcome: outcome as LineOutcome,
              on,
              backTo,
              conditionIn: condition.trim() || null,
              amountUsed: amountUsed.trim() === '' ? null : Number(amountUsed.replace(',', '.')),
            };
          }),
        },
      })}
      onDone={onDone}
    >
      <TextInput
        id={fieldId('on')}
        label={say('On')}
        type="date"
        max={today}
        value={on}
        onChange={(event) => setOn(event.currentTarget.value)}
        maw={240}
      />
      <ul className={classes.lines}>
        {out.map((line) => (
          <Line
            key={line.id}
            line={line}
            said={of(line.id)}
            mayConsume={loan.kind === 'grant'}
            index={settled.indexOf(line)}
            onChange={(change) => setSaid({ ...said, [line.id]: { ...of(line.id), ...change } })}
          />
        ))}
      </ul>
      <p role="status">
        {left === 0
          ? say('Nothing is out after this: the loan closes.')
          : say('{of} out after this.', { of: countOf(left, 'material') })}
      </p>
    </ActPanel>
  );
}

function Line({
  line,
  said,
  mayConsume,
  index,
  onChange,
}: {
  line: LoanLineRecord;
  said: Said;
  mayConsume: boolean;
  /** Place among the settled lines, as refusals name it. */
  index: number;
  onChange: (change: Partial<Said>) => void;
}) {
  const isBack = said.outcome === 'returned';
  return (
    <li className={classes.line} data-three>
      <div>
        {sayWith('{b} {taxonname}{br}{word}, went out: {conditionOut}', {
          b: <b>{line.label}</b>,
          taxonname: <TaxonName scientific={line.scientificName} />,
          br: <br />,
          word: sayWord(line.kind),
          conditionOut: line.conditionOut,
        })}
      </div>
      <NativeSelect
        label={say('What became of it')}
        data={[
          { value: '', label: say('still out') },
          { value: 'returned', label: say('returned') },
          ...(mayConsume ? [{ value: 'consumed', label: say('consumed') }] : []),
          { value: 'lost', label: say('lost') },
        ]}
        aria-label={say('What became of {label}', { label: line.label })}
        value={said.outcome}
        onChange={(event) => onChange({ outcome: event.currentTarget.value as Said['outcome'] })}
      />
      {said.outcome === '' ? (
        <span />
      ) : (
        <TextInput
          label={isBack ? say('Condition as it came back') : say('What happened')}
          value={said.condition}
          onChange={(event) => onChange({ condition: event.currentTarget.value })}
        />
      )}
      {isBack ? (
        <div>
          <NativeSelect
            id={fieldId(`lines.${index}.backTo`)}
            label={say('Back to')}
            data={[
              { value: 'where-it-lay', label: line.place ?? say('no place noted') },
              { value: 'not-yet', label: say('put away later') },
            ]}
            value={said.backTo === 'not-yet' ? 'not-yet' : 'where-it-lay'}
            onChange={(event) =>
              onChange({ backTo: event.currentTarget.value as 'not-yet' | 'where-it-lay' })
            }
          />
          {mayConsume && line.vial !== null ? (
            <TextInput
              id={fieldId(`lines.${index}.amountUsed`)}
              label={say('Used of it, in {unit}', { unit: line.vial.unit })}
              inputMode="decimal"
              value={said.amountUsed}
              onChange={(event) => onChange({ amountUsed: event.currentTarget.value })}
            />
          ) : null}
        </div>
      ) : null}
    </li>
  );
}
