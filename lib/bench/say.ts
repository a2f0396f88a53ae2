import { printValue } from '@/lib/bench/dictation/print-value';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

/**
 * A value as it would be said, without the name of its field: "94 mm", "9 by 6 mm", "2 kaiser", "left ovary, oviduct".
 * An empty text for no value.
 */
export function sayFieldValue(field: FieldId, value: unknown, method: string | null = null): string {
  if (value === null || value === undefined) return '';
  const spec = FIELDS[field];
  if (!spec.value.safeParse(value).success) return JSON.stringify(value);
  if (spec.kind === 'text') return String(value);
  if (spec.form === 'items') return (value as string[]).join(', ');
  if (spec.form === 'vials') {
    return (value as { vial: number; kinds: string[] }[])
      .map(({ vial, kinds }) => `${vial}: ${kinds.map((kind) => labelOfChoice(field, kind)).join(', ')}`)
      .join('; ');
  }
  if (spec.kind === 'code') return labelOfChoice(field, value as string);
  if (spec.form === 'codes') return (value as string[]).map((id) => labelOfChoice(field, id)).join(', ');
  return printValue({ field, value: value as FieldValue, method }).trim();
}

const labelOfChoice = (field: FieldId, id: string): string =>
  FIELDS[field].choices.find((choice) => choice.id === id)?.label ?? id;
