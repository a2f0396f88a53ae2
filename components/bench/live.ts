import type { FieldId } from '@/lib/bench/fields';
import type { Snapshot } from '@/lib/bench/snapshot';
import type { BenchRecord } from '@/lib/bench/wire';
import type { LiveRecord } from './pending';

/** The live values in the shape in which the rules read them. */
export function heldValues(live: LiveRecord): Snapshot {
  return Object.fromEntries(
    Object.entries(live.values).map(([field, held]) => [field, { ...held, by: held.by.id }]),
  );
}

export type LiveWarning = BenchRecord['warnings'][number];

/** The warnings with what this person said of them, also while the server is away. */
export const liveWarnings = (
  live: LiveRecord,
  warnings: readonly Omit<LiveWarning, 'explained'>[],
): LiveWarning[] =>
  warnings.map((warning) => ({ ...warning, explained: live.overrides[warning.key]?.reason ?? null }));

/** The first open warning of each field. */
export function firstWarnings(warnings: readonly LiveWarning[]): Partial<Record<FieldId, string>> {
  const first: Partial<Record<FieldId, string>> = {};
  for (const { field, sentence, explained } of warnings) if (explained === null) first[field] ??= sentence;
  return first;
}
