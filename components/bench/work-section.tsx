'use client';

import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { problemOf } from '@/components/ui/problem';
import { PREPARATION_STYLES } from '@/lib/bench/schema';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/styles';
import type { BenchRecord } from '@/lib/bench/wire';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
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
  return (
    <div className={classes.work}>
      <NativeSelect
        label={say('The bird becomes')}
        size="md"
        value={style.id}
        disabled={!abilities.write || carcassState !== 'on-the-bench' || changeStyle.isPending}
        data={PREPARATION_STYLES.map((id) => ({
          value: id,
          label: id === style.id ? style.label : PREPARATION_STYLE_DATA[id].label,
        }))}
        onChange={(event) => changeStyle.mutate({ styleId: event.currentTarget.value, version })}
      />
      <NativeSelect
        label={say('Who writes')}
        size="md"
        value={scribe?.id ?? ''}
        disabled={!abilities.write || changeScribe.isPending}
        data={[
          { value: '', label: say('{name}, alone', { name: preparator.name }) },
          ...(scribe !== null && !people.some(({ id }) => id === scribe.id)
            ? [{ value: scribe.id, label: scribe.name }]
            : []),
          ...people.map(({ id, name }) => ({ value: id, label: name })),
        ]}
        onChange={(event) => changeScribe.mutate({ personId: event.currentTarget.value || null })}
      />
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
