'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { FIELD_IDS, FIELDS, type FieldId, isFieldId } from '@/lib/bench/fields';
import type { AmendRequest } from '@/lib/catalogue/schema';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { say } from '@/lib/platform/words/say';
import { useSheetChange } from './sheet-queries';
import { fieldLabel, showValue } from './show-value';

type Json = AmendRequest['after'];

/** Kinds of fields whose value is one line of text or one choice. */
const TYPED = new Set(['number', 'text', 'code', 'list']);
const AMENDABLE = FIELD_IDS.filter((id) => TYPED.has(FIELDS[id].kind) && FIELDS[id].form !== 'vials');

/** What was typed, as the field's own value; null takes the value away. */
function readTyped(field: FieldId, text: string): Json {
  const trimmed = text.trim();
  if (trimmed === '') return null;
  const { kind } = FIELDS[field];
  if (kind === 'number') return Number(trimmed.replace(',', '.'));
  if (kind === 'list') return trimmed.split(',').map((part) => part.trim());
  return trimmed;
}

const asText = (value: unknown): string =>
  value === null || value === undefined ? '' : Array.isArray(value) ? value.join(', ') : String(value);

/** Changes one field of an approved record, with the reason. */
export function AmendForm({ record, onDone }: { record: CatalogueRecord; onDone: () => void }) {
  const change = useSheetChange(record.birdId);
  const [field, setField] = useState<FieldId>('massG');
  const standing = record.fields.find((one) => one.field === field)?.value ?? null;
  const [text, setText] = useState(asText(standing));
  const [reason, setReason] = useState('');
  const spec = FIELDS[field];
  const choose = (chosen: string) => {
    if (!isFieldId(chosen)) return;
    setField(chosen);
    setText(asText(record.fields.find((one) => one.field === chosen)?.value));
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    change.mutate(
      { act: 'amend', body: { field, before: standing, after: readTyped(field, text), reason } },
      { onSuccess: onDone },
    );
  };
  const problem = problemOf(change.error);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={560}>
        {change.error === null ? null : (
          <ErrorSummary
            title={problem.title}
            attempt={change.failureCount}
            problems={
              problem.fields?.length ? problem.fields : [{ path: 'after', message: say('Reload and look.') }]
            }
          />
        )}
        <NativeSelect
          id={fieldId('field')}
          label={say('Field')}
          data={AMENDABLE.map((value) => ({ value, label: fieldLabel(value) }))}
          value={field}
          onChange={(event) => choose(event.currentTarget.value)}
        />
        {spec.form === 'code' ? (
          <NativeSelect
            id={fieldId('after')}
            label={say('Amended to')}
            description={say('It says: {value}', { value: showValue(field, standing) })}
            data={[
              { value: '', label: say('nothing') },
              ...spec.choices.map(({ id, label }) => ({ value: id, label })),
            ]}
            value={text}
            onChange={(event) => setText(event.currentTarget.value)}
          />
        ) : (
          <TextInput
            id={fieldId('after')}
            label={spec.unit === null ? say('Amended to') : say('Amended to, in {unit}', { unit: spec.unit })}
            description={say('It says: {value}. Leave empty to take the value away.', {
              value: showValue(field, standing),
            })}
            value={text}
            onChange={(event) => setText(event.currentTarget.value)}
          />
        )}
        <Textarea
          id={fieldId('reason')}
          label={say('Why')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <Group>
          <Button type="submit" loading={change.isPending} disabled={reason.trim().length < 3}>
            {say('Amend with this reason')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Leave it as it is')}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
