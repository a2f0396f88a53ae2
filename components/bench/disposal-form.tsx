'use client';

import { Button, TextInput } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { z } from 'zod';
import { CautionCard } from '@/components/ui/caution-card';
import { CAUTION_ENDING } from '@/lib/bench/cautions';
import type { BenchRecord } from '@/lib/bench/wire';
import { callApi } from '@/lib/platform/api';
import { dayOfInstant } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { benchKeys } from './keys';
import { Problems } from './problems';
import classes from './products.module.css';

/** A bird that becomes nothing: how, when and before whom it was disposed of. */
export function DisposalForm({ record }: { record: BenchRecord }) {
  const queries = useQueryClient();
  const [facts, setFacts] = useState({
    on: dayOfInstant(new Date().toISOString(), 'here'),
    method: '',
    witness: '',
    reason: '',
  });
  const dispose = useMutation({
    mutationFn: () =>
      callApi(`/api/queue/${record.birdId}/dispose`, {
        method: 'POST',
        body: { act: 'discard', version: record.birdVersion, ...facts },
        schema: z.object({}),
      }),
    onSuccess: () => queries.invalidateQueries({ queryKey: benchKeys.record(record.id) }),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    dispose.mutate();
  };
  const field = (name: keyof typeof facts, label: string, type = 'text') => (
    <TextInput
      label={label}
      size="md"
      required
      type={type}
      value={facts[name]}
      onChange={(event) => setFacts({ ...facts, [name]: event.currentTarget.value })}
    />
  );
  return (
    <form className={classes.divide} onSubmit={submit}>
      <h3>{say('Dispose of this bird')}</h3>
      <CautionCard
        title={say('It still counts on its permit')}
        source={say('common practice')}
        closing={CAUTION_ENDING}
      >
        <p>{say('The annual report names how it was destroyed, when, and before whom.')}</p>
      </CautionCard>
      {field('on', say('On'), 'date')}
      {field('method', say('How'))}
      {field('witness', say('Before whom'))}
      {field('reason', say('Why nothing was kept'))}
      <Problems error={dispose.error} />
      <div>
        <Button type="submit" color="stop" loading={dispose.isPending}>
          {say('Note it as disposed of')}
        </Button>
      </div>
    </form>
  );
}
