'use client';

import { Button } from '@mantine/core';
import { type ReactNode, useEffect, useRef, useState } from 'react';
import { sayWith } from '@/components/ui/say-with';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './conflict-merge.module.css';
import { type Difference, findDifferences, type MergeSide, mergeChoices } from './merge';
import { Moment } from './moment';

export type MergeField<T> = {
  name: keyof T & string;
  label: string;
  /** The value as a person reads it; by default as text, nothing as "empty". */
  show?: (value: never) => ReactNode;
};

const showPlain = (value: unknown): ReactNode => {
  if (value === null || value === undefined || value === '') return 'empty';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
};

function Choice<T>({
  field,
  difference,
  who,
  chosen,
  onChoose,
}: {
  field: MergeField<T>;
  difference: Difference<T>;
  who: string;
  chosen: MergeSide | undefined;
  onChoose: (side: MergeSide) => void;
}) {
  const show = (field.show ?? showPlain) as (value: unknown) => ReactNode;
  const sides = [
    { side: 'mine', label: say('Yours'), value: difference.mine },
    { side: 'theirs', label: who, value: difference.theirs },
  ] as const;
  return (
    <fieldset className={classes.field}>
      <legend>
        {field.label}
        {difference.settled && <span className={classes.note}>{say(' changed by one of you only')}</span>}
      </legend>
      <div className={classes.sides}>
        {sides.map(({ side, label, value }) => (
          <label key={side} className={classes.side} data-chosen={chosen === side || undefined}>
            <input
              type="radio"
              name={`merge-${field.name}`}
              checked={chosen === side}
              onChange={() => onChoose(side)}
            />
            <span>
              <span className={classes.whose}>{label}</span>
              <span className={classes.value}>{show(value)}</span>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/**
 * Shown when a save was refused because somebody else saved first: both versions field by field. Fields that only one
 * person changed are chosen already; the person decides the others, and `onMerge` gets the whole record.
 */
export function ConflictMerge<T extends object>({
  fields,
  mine,
  theirs,
  base,
  who,
  at,
  busy = false,
  onMerge,
  onTakeTheirs,
}: {
  fields: readonly MergeField<T>[];
  mine: T;
  theirs: T;
  /** What both began from. Without it every difference has to be chosen. */
  base?: T;
  /** Who saved the other version. */
  who: string;
  at?: string;
  busy?: boolean;
  onMerge: (merged: T) => void;
  onTakeTheirs: () => void;
}) {
  const differences = findDifferences(
    fields.map((field) => field.name),
    mine,
    theirs,
    base,
  );
  const [chosen, setChosen] = useState<Partial<Record<keyof T & string, MergeSide>>>({});
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []);

  const sideOf = (difference: Difference<T>) => chosen[difference.field] ?? difference.settled ?? undefined;
  const open = differences.filter((difference) => sideOf(difference) === undefined).length;
  const save = () =>
    onMerge(
      mergeChoices(
        mine,
        theirs,
        Object.fromEntries(
          differences.map((difference) => [difference.field, sideOf(difference)]),
        ) as Partial<Record<keyof T & string, MergeSide>>,
      ),
    );
  return (
    <section className={classes.conflict} aria-label={say('Two versions of this record')}>
      <h2 ref={title} tabIndex={-1}>
        {say('{who} changed this record while you wrote', { who })}
      </h2>
      <p>
        {sayWith(
          '{at}Nothing of yours is lost. Choose which value stands in each field; the other stays in the history.',
          { at: at && <>{sayWith('Saved {moment}. ', { moment: <Moment at={at} show="both" /> })}</> },
        )}
      </p>
      {differences.map((difference) => {
        const field = fields.find((candidate) => candidate.name === difference.field);
        return field ? (
          <Choice
            key={field.name}
            field={field}
            difference={difference}
            who={who}
            chosen={sideOf(difference)}
            onChoose={(side) => setChosen((before) => ({ ...before, [field.name]: side }))}
          />
        ) : null;
      })}
      <div className={classes.acts}>
        <Button onClick={save} loading={busy} disabled={open > 0}>
          {say('Save the chosen version')}
        </Button>
        <Button variant="default" onClick={onTakeTheirs} disabled={busy}>
          {say('Take the version of {who}', { who })}
        </Button>
        <span role="status" className={classes.note}>
          {open > 0 ? say('{of} to choose', { of: countOf(open, 'field') }) : ''}
        </span>
      </div>
    </section>
  );
}
