'use client';

import { Group, NativeSelect, TextInput } from '@mantine/core';
import { fieldId } from '@/components/ui/field-id';
import { phrases, say } from '@/lib/platform/words/say';
import type { Amount, AmountUnit } from '@/lib/tissues/schema';

const UNITS: { value: AmountUnit; label: string }[] = phrases([
  { value: 'mg', label: 'mg' },
  { value: 'g', label: 'g' },
  { value: 'ul', label: 'µl' },
  { value: 'ml', label: 'ml' },
  { value: 'pieces', label: 'pieces' },
]);

export type TypedAmount = { value: string; unit: AmountUnit };

/** The amount as typed; null where nothing was typed, NaN where it is no number (the schema then says so). */
export const readAmount = ({ value, unit }: TypedAmount): Amount | null =>
  value.trim() === '' ? null : { value: Number(value.trim().replace(',', '.')), unit };

/** A figure and its unit. */
export function AmountFields({
  label,
  path,
  amount,
  onChange,
  description,
}: {
  label: string;
  path: string;
  amount: TypedAmount;
  onChange: (amount: TypedAmount) => void;
  description?: string;
}) {
  return (
    <Group gap={4} align="flex-end" wrap="nowrap">
      <TextInput
        id={fieldId(path)}
        label={label}
        description={description}
        inputMode="decimal"
        autoComplete="off"
        w={112}
        value={amount.value}
        onChange={(event) => onChange({ ...amount, value: event.currentTarget.value })}
      />
      <NativeSelect
        aria-label={say('{label}: unit', { label })}
        data={UNITS}
        w={92}
        value={amount.unit}
        onChange={(event) => onChange({ ...amount, unit: event.currentTarget.value as AmountUnit })}
      />
    </Group>
  );
}
