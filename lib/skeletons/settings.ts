import { z } from 'zod';
import { proceduresSchema, STARTING_PROCEDURES } from './rules/cleaning';

/** The skeletons' part of a collection's settings; what is not set has its start value. */
export const skeletonSettingsSchema = z.object({
  procedures: proceduresSchema.default([...STARTING_PROCEDURES]),
  /** The wing and leg that go to the skeleton where there is nothing to choose between. */
  usualSide: z.enum(['left', 'right']).default('right'),
});
export type SkeletonSettings = z.infer<typeof skeletonSettingsSchema>;

const whole = z.object({ skeletons: z.unknown() }).partial();

/** @param settings the collection's whole settings document */
export function readSkeletonSettings(settings: unknown): SkeletonSettings {
  const own = whole.safeParse(settings);
  return skeletonSettingsSchema.parse(own.data?.skeletons ?? {});
}
