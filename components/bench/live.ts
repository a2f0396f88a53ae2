import type { BenchWarning } from '@/lib/bench/checks';
import { checkRecord } from '@/lib/bench/checks';
import { type Comparison, checkContextOf } from '@/lib/bench/comparison';
import type { FieldId } from '@/lib/bench/fields';
import { plainValues, type Snapshot } from '@/lib/bench/snapshot';
import type { LiveRecord } from './pending';

/** The live values in the shape in which the rules read them. */
export function heldValues(live: LiveRecord): Snapshot {
  return Object.fromEntries(
    Object.entries(live.values).map(([field, held]) => [field, { ...held, by: held.by.id }]),
  );
}

export interface LiveWarning extends BenchWarning {
  /** Why the figure stands; null while nobody has said so. */
  explained: string | null;
}

/** The warnings about the record as this person sees it, also while the server is away. */
export function liveWarnings(live: LiveRecord, against: Comparison): LiveWarning[] {
  const values = plainValues(heldValues(live));
  return checkRecord(values, checkContextOf(values, against)).map((warning) => ({
    ...warning,
    explained: live.overrides[warning.key]?.reason ?? null,
  }));
}

/** The first open warning of each field. */
export function firstWarnings(warnings: readonly LiveWarning[]): Partial<Record<FieldId, string>> {
  const first: Partial<Record<FieldId, string>> = {};
  for (const { field, sentence, explained } of warnings) if (explained === null) first[field] ??= sentence;
  return first;
}
