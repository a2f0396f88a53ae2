'use client';

import { Button, NativeSelect, NumberInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { SCALE_NOT_STATED } from '@/lib/bench/catalogue/types';
import { CAUTION_ENDING } from '@/lib/bench/cautions';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { SCORE_FIELDS } from '@/lib/bench/settings';
import type { LabSettings } from '@/lib/bench/wire-lab';
import { say } from '@/lib/platform/words/say';
import classes from './lab.module.css';
import { useLabAct } from './lab-queries';
import { Problems } from './problems';

/** Which scale a score is meant by, and when the clocks of the bench call. */
export function ScalesAndClocks({ lab }: { lab: LabSettings }) {
  const act = useLabAct();
  const [scales, setScales] = useState<Partial<Record<FieldId, string>>>(lab.scales);
  const [clocks, setClocks] = useState(lab.clocks);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({ method: 'PUT', path: '', body: { scales, clocks } });
  };
  return (
    <form className={classes.form} onSubmit={submit}>
      {SCORE_FIELDS.map((field) => (
        <NativeSelect
          key={field}
          label={FIELDS[field].label}
          disabled={!lab.mayChange}
          value={scales[field] ?? ''}
          data={[
            { value: '', label: say('must be said each time') },
            ...FIELDS[field].scales
              .filter(({ id }) => id !== SCALE_NOT_STATED)
              .map(({ id, label }) => ({ value: id, label })),
          ]}
          onChange={(event) => {
            const { [field]: _, ...others } = scales;
            const chosen = event.currentTarget.value;
            setScales(chosen === '' ? others : { ...others, [field]: chosen });
          }}
        />
      ))}
      <NumberInput
        label={say('Tissue is due after the bird is workable, in minutes')}
        disabled={!lab.mayChange}
        min={5}
        max={1440}
        value={clocks.tissueWithinMinutes}
        onChange={(value) => setClocks({ ...clocks, tissueWithinMinutes: Number(value) })}
      />
      <NumberInput
        label={say('Longest time out of the freezer, in hours')}
        disabled={!lab.mayChange}
        min={1}
        max={240}
        value={clocks.timeOutAfterHours}
        onChange={(value) => setClocks({ ...clocks, timeOutAfterHours: Number(value) })}
      />
      <CautionCard
        title={say('Start values')}
        source={say('common practice, no source')}
        closing={CAUTION_ENDING}
      >
        <p>{say('How long a bird may lie out, and how soon tissue must be taken, is for the lab to say.')}</p>
      </CautionCard>
      <Problems error={act.error} />
      {lab.mayChange && (
        <div>
          <Button type="submit" loading={act.isPending}>
            {say('Save')}
          </Button>
        </div>
      )}
    </form>
  );
}
