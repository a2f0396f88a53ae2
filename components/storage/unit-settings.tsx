'use client';

import { Button, Checkbox, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import { changeUnitRequest, type UnitRecord } from '@/lib/storage/wire';
import { readSettings, SettingsFields } from './make-units';
import { useChangeUnit } from './queries';

/** Name, code, grid, temperature, use. What would leave something in the wrong place is refused with the reason. */
export function UnitSettings({ unit }: { unit: UnitRecord }) {
  const change = useChangeUnit(unit.id);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const attempt = useRef(0);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    attempt.current += 1;
    const form = new FormData(event.currentTarget);
    const parsed = changeUnitRequest.safeParse({
      ...readSettings(form),
      code: form.get('code'),
      active: form.get('active') !== null,
      reason: form.get('reason') || null,
      version: unit.version,
    });
    setLocal(parsed.success ? [] : problemsIn(parsed.error));
    if (parsed.success) change.mutate(parsed.data);
  };
  const problem = problemOf(change.error);
  const refused = problem.fields ?? [];
  const alone =
    change.error !== null && refused.length === 0
      ? [{ path: 'name', message: problem.title ?? say('Not saved.') }]
      : [];
  return (
    // A new version of the unit begins a new form, so that nobody saves what is no longer so.
    <form key={unit.version} onSubmit={submit} noValidate>
      <Stack gap="md" maw={720}>
        <h3>{say('What it is and takes')}</h3>
        <ErrorSummary
          problems={local.length > 0 ? local : [...refused, ...alone]}
          attempt={attempt.current}
          title={say('Nothing was saved:')}
        />
        {change.isSuccess && <p role="status">{say('Saved.')}</p>}
        <TextInput id={fieldId('name')} name="name" label={say('Name')} required defaultValue={unit.name} />
        <TextInput
          id={fieldId('code')}
          name="code"
          label={say('Code on its label')}
          required
          w={208}
          defaultValue={unit.code}
        />
        <SettingsFields unit={unit} />
        <Checkbox name="active" label={say('In use')} defaultChecked={unit.active} />
        <TextInput name="reason" label={say('Why it is changed')} />
        <div>
          <Button type="submit" variant="default" loading={change.isPending}>
            {say('Save the settings')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
