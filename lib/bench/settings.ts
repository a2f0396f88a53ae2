import { z } from 'zod';
import { clockSettings } from '@/lib/bench/clock-schema';
import { FIELD_IDS, FIELDS, type FieldId } from '@/lib/bench/fields';

/** Fields whose scores need a scale: the lab sets its own once. */
export const SCORE_FIELDS: readonly FieldId[] = FIELD_IDS.filter((field) => FIELDS[field].kind === 'score');

const knownScale = (field: FieldId, scale: string): boolean =>
  FIELDS[field].scales.some(({ id }) => id === scale);

/** The bench's part of a collection's settings; what is not set has its start value. */
export const benchSettings = z.object({
  /** Scale of each score when none was said. */
  scales: z
    .partialRecord(z.enum(FIELD_IDS as [FieldId, ...FieldId[]]), z.string())
    .default({})
    .refine(
      (scales) =>
        Object.entries(scales).every(([field, scale]) => knownScale(field as FieldId, String(scale))),
      'Choose one of the published scales of the field.',
    ),
  clocks: clockSettings.prefault({}),
});
export type BenchSettings = z.infer<typeof benchSettings>;

const whole = z.object({ bench: z.unknown() }).partial();

/** @param settings the collection's whole settings document */
export function readBenchSettings(settings: unknown): BenchSettings {
  const own = whole.safeParse(settings);
  return benchSettings.parse(own.data?.bench ?? {});
}
