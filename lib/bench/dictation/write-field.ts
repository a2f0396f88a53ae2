import { printValue } from '@/lib/bench/dictation/print-value';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

/** What stands in a field's own input for a value: `readFieldText` reads it back. Numbers come without their unit. */
export function writeFieldText(field: FieldId, value: unknown): string {
  const spec = FIELDS[field];
  if (value === undefined || value === null) return '';
  if (spec.kind === 'text' || spec.kind === 'number') return String(value);
  if (spec.form === 'items') return (value as string[]).join(', ');
  return printValue({ field, value: value as FieldValue })
    .replace(/ mm$/, '')
    .trim();
}
