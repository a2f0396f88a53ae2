import { z } from 'zod';
import { type BenchValues, FIELD_IDS, type FieldId, type FieldValue, isFieldId } from '@/lib/bench/fields';

/** The value that a field holds now, with how it was said, when and by whom. */
export const heldValue = z.object({
  value: z.json(),
  unit: z.string().nullable(),
  verbatim: z.string().nullable(),
  method: z.string().nullable(),
  /** Instant of the writing, ISO 8601. */
  at: z.string(),
  /** Id of the person who wrote it. */
  by: z.string(),
});
export type HeldValue = z.infer<typeof heldValue>;
export type Snapshot = Partial<Record<FieldId, HeldValue>>;

const storedByField = z.record(z.string(), z.unknown()).catch({});

/** The current values as a record keeps them; what is no value of a field any more is left out. */
export function readSnapshot(stored: unknown): Snapshot {
  const snapshot: Snapshot = {};
  for (const [field, held] of Object.entries(storedByField.parse(stored))) {
    const parsed = heldValue.safeParse(held);
    if (isFieldId(field) && parsed.success) snapshot[field] = parsed.data;
  }
  return snapshot;
}

/** The bare values, as the rules take them. */
export function plainValues(snapshot: Snapshot): BenchValues {
  const values: Partial<Record<FieldId, FieldValue>> = {};
  for (const field of FIELD_IDS) {
    const held = snapshot[field];
    if (held !== undefined) values[field] = held.value as FieldValue;
  }
  return values as BenchValues;
}
