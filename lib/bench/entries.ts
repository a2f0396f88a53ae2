import { z } from 'zod';
import type { BenchVial } from '@/lib/bench/catalogue/body';
import { FIELDS, type FieldId, type FieldValue, isFieldId } from '@/lib/bench/fields';

/** One value as written in a record. The value is checked with `parseFieldValue`, not here. */
export const benchEntry = z.object({
  field: z.string().refine(isFieldId, 'No such field'),
  value: z.json(),
  unit: z.string().nullable(),
  verbatim: z.string().nullable(),
  method: z.string().nullable(),
  /** Instant, ISO 8601 with zone. */
  at: z.iso.datetime({ offset: true }),
  by: z.string().min(1),
  supersededAt: z.iso.datetime({ offset: true }).nullable(),
});
export type BenchEntry = z.infer<typeof benchEntry>;

/** What is about to be written. */
export interface NewEntry {
  field: FieldId;
  value: FieldValue;
  unit: string | null;
  verbatim: string | null;
  method: string | null;
  correction: boolean;
}

/**
 * The value that a field holds after this entry: lists of organs and vials gather what is added, unless it was
 * said as a correction; everything else is replaced.
 */
export function mergeValue(
  field: FieldId,
  before: unknown,
  added: FieldValue,
  correction: boolean,
): FieldValue {
  if (FIELDS[field].merge === 'replace' || correction || !Array.isArray(before)) return added;
  if (field === 'tissueVials') return mergeVials(before as BenchVial[], added as BenchVial[]);
  return [...new Set([...before, ...(added as string[])])] as FieldValue;
}

/** A vial that is named again takes the further tissues beside its first. */
function mergeVials(before: readonly BenchVial[], added: readonly BenchVial[]): BenchVial[] {
  const kindsOf = new Map(before.map(({ vial, kinds }) => [vial, kinds]));
  for (const { vial, kinds } of added) {
    kindsOf.set(vial, [...new Set([...(kindsOf.get(vial) ?? []), ...kinds])]);
  }
  return [...kindsOf].map(([vial, kinds]) => ({ vial, kinds })).sort((a, b) => a.vial - b.vial);
}

/**
 * Appends a new value to the entries of a record. The entry it follows is kept and marked as superseded at
 * the same instant. Saying the same value again changes nothing and returns the entries as they are.
 */
export function appendEntry(
  entries: readonly BenchEntry[],
  { field, value, unit, verbatim, method, correction }: NewEntry,
  stamp: { at: string; by: string },
): BenchEntry[] {
  const current = entries.find((entry) => entry.field === field && entry.supersededAt === null);
  const merged = mergeValue(field, current?.value, value, correction);
  if (current && current.method === method && JSON.stringify(current.value) === JSON.stringify(merged)) {
    return [...entries];
  }
  const entry = {
    field,
    value: merged as BenchEntry['value'],
    unit,
    verbatim,
    method,
    ...stamp,
    supersededAt: null,
  };
  return [...entries.map((one) => (one === current ? { ...one, supersededAt: stamp.at } : one)), entry];
}

/** The entry in force for each field. */
export function currentEntries(entries: readonly BenchEntry[]): Partial<Record<FieldId, BenchEntry>> {
  const current: Partial<Record<FieldId, BenchEntry>> = {};
  for (const entry of entries) {
    if (entry.supersededAt === null && isFieldId(entry.field)) current[entry.field] = entry;
  }
  return current;
}
