'use client';

import { Button, Group, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { permitListOptions } from '@/components/permits/queries';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

/** Somebody who may rules on the coverage: the verdict, its authority and why. */
export function RulingForm({ find, act, onDone }: { find: SalvageRecord; act: FindAct; onDone: () => void }) {
  const permits = useQuery(permitListOptions({ size: 200 }));
  const [fields, setFields] = useState({
    verdict: 'covered',
    permitId: find.permit?.id ?? '',
    cite: '',
    reason: '',
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const { verdict, permitId } = fields;
    const counted = verdict === 'covered' && permitId !== '' ? permitId : null;
    act.mutate(
      { act: 'ruling', body: { ...fields, permitId: counted, version: find.version } },
      { onSuccess: onDone },
    );
  };
  const problem = problemOf(act.error);
  const errorOf = (name: string) => problem.fields?.find(({ path }) => path === name)?.message;
  return (
    <form onSubmit={submit} className={classes.acts}>
      <h2>{say('Rule on it')}</h2>
      {act.error === null ? null : <p role="alert">{problem.title}</p>}
      <div className={classes.row}>
        <NativeSelect
          label={say('It is')}
          data={[
            { value: 'covered', label: say('covered') },
            { value: 'not-covered', label: say('not covered') },
          ]}
          value={fields.verdict}
          onChange={(event) => setFields({ ...fields, verdict: event.currentTarget.value })}
        />
        {fields.verdict === 'covered' ? (
          <NativeSelect
            label={say('Counted under')}
            data={[
              { value: '', label: say('no permit') },
              ...(permits.data?.rows ?? []).map(({ id, number, authority }) => ({
                value: id,
                label: `${number}, ${authority}`,
              })),
            ]}
            value={fields.permitId}
            onChange={(event) => setFields({ ...fields, permitId: event.currentTarget.value })}
          />
        ) : null}
        <TextInput
          label={say('By which clause, letter or rule')}
          required
          value={fields.cite}
          error={errorOf('cite')}
          onChange={(event) => setFields({ ...fields, cite: event.currentTarget.value })}
        />
      </div>
      <TextInput
        label={say('Why?')}
        required
        value={fields.reason}
        error={errorOf('reason')}
        onChange={(event) => setFields({ ...fields, reason: event.currentTarget.value })}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Rule so')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}
