import type { BenchVial } from '@/lib/bench/catalogue/body';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

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
