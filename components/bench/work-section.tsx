'use client';

import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useId } from 'react';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { PREPARATION_STYLES } from '@/lib/bench/schema';
import { STYLE_LABELS } from '@/lib/bench/styles';
import type { BenchRecord } from '@/lib/bench/wire';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import fields from './bench-field.module.css';
import classes from './bench-record.module.css';
import { colleaguesOptions, useRecordAct } from './queries';

/** Who works, who writes, and what the bird becomes. */
export function WorkSection({ record }: { record: BenchRecord }) {
  const { abilities, carcassState, preparator, scribe, style, version } = record;
  const colleagues = useQuery({ ...colleaguesOptions(), enabled: abilities.write });
  const changeStyle = useRecordAct(record.id, 'style');
  const changeScribe = useRecordAct(record.id, 'scribe');
  const problem = changeStyle.error ?? changeScribe.error;
  const people = (colleagues.data?.people ?? []).filter(({ id }) => id !== preparator.id);
  const scribes = scribe === null || people.some(({ id }) => id === scribe.id) ? people : [scribe, ...people];
  return (
    <div className={classes.work}>
      <Choice
        label={say('The bird becomes')}
        value={style.id}
        disabled={!abilities.write || carcassState !== 'on-the-bench' || changeStyle.isPending}
        onChange={(styleId) => changeStyle.mutate({ styleId, version })}
      >
        {PREPARATION_STYLES.map((id) => (
          <option key={id} value={id}>
            {id === style.id ? style.label : STYLE_LABELS[id]}
          </option>
        ))}
      </Choice>
      <Choice
        label={say('Who writes')}
        value={scribe?.id ?? ''}
        disabled={!abilities.write || changeScribe.isPending}
        onChange={(personId) => changeScribe.mutate({ personId: personId || null })}
      >
        <option value="">{say('{name}, alone', { name: preparator.name })}</option>
        {scribes.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </Choice>
      <p className={classes.quiet}>
        <Link href={paths.bird(record.birdId)}>{say('The bird’s whole story')}</Link>
      </p>
      {problem && (
        <p role="alert" className={classes.problem}>
          {problemOf(problem).title}
        </p>
      )}
    </div>
  );
}

function Choice({
  label,
  value,
  disabled,
  onChange,
  children,
}: {
  label: string;
  value: string;
  disabled: boolean;
  onChange: (value: string) => void;
  children: ReactNode;
}) {
  const id = useId();
  return (
    <div>
      <label htmlFor={id} className={fields.label}>
        {label}
      </label>
      <select
        id={id}
        className={fields.select}
        value={value}
        disabled={disabled}
        onChange={(event) => onChange(event.currentTarget.value)}
      >
        {children}
      </select>
    </div>
  );
}
