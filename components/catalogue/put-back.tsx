'use client';

import { Button, Group, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import type { AmendRequest } from '@/lib/catalogue/schema';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { say } from '@/lib/platform/words/say';
import { useSheetChange } from './sheet-queries';
import { fieldLabel, showValue } from './show-value';

/** Offers an earlier value of a field again. It becomes an amendment like any other: with a reason, both values kept. */
export function PutBack({
  record,
  field,
  value,
}: {
  record: CatalogueRecord;
  field: string;
  value: AmendRequest['after'];
}) {
  const change = useSheetChange(record.birdId);
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  const standing = record.fields.find((one) => one.field === field)?.value ?? null;
  const said = `${fieldLabel(field)}: ${showValue(field, value)}`;
  if (!open)
    return (
      <Button
        size="compact-sm"
        variant="subtle"
        className="f-screen-only"
        aria-label={say('Put back {said}', { said })}
        onClick={() => setOpen(true)}
      >
        {say('Put back')}
      </Button>
    );
  const submit = (event: FormEvent) => {
    event.preventDefault();
    change.mutate(
      { act: 'amend', body: { field, before: standing, after: value, reason } },
      { onSuccess: () => setOpen(false) },
    );
  };
  const problem = problemOf(change.error);
  return (
    <form onSubmit={submit} className="f-screen-only">
      <Stack gap="xs" maw={560}>
        <TextInput
          label={say('Why {said} is right after all', { said })}
          description={say('It says now: {value}. Both values are kept.', {
            value: showValue(field, standing),
          })}
          required
          data-autofocus
          value={reason}
          maxLength={2000}
          onChange={(event) => setReason(event.currentTarget.value)}
          error={
            change.error === null
              ? undefined
              : [problem.title, ...(problem.fields ?? []).map(({ message }) => message)].join(' ')
          }
        />
        <Group>
          <Button type="submit" size="sm" loading={change.isPending} disabled={reason.trim().length < 3}>
            {say('Put it back')}
          </Button>
          <Button size="sm" variant="default" onClick={() => setOpen(false)}>
            {say('Leave it as it is')}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}

/** The values that stood in the record's fields before, each to be put back. */
export function EarlierValues({ record }: { record: CatalogueRecord }) {
  return (
    <ul>
      {record.earlier.map(({ field, value, at }) => (
        <li key={`${field} ${JSON.stringify(value)} ${at}`}>
          {fieldLabel(field)}: <del>{showValue(field, value)}</del>
          {say(', last written ')}
          <Moment at={at} /> <PutBack record={record} field={field} value={value} />
        </li>
      ))}
    </ul>
  );
}
