import { z } from 'zod';
import { STARTING_SKIN_DURATIONS } from './rules';
import { type SkinDurations, skinDurationsSchema } from './schema';

/** The lab's own days for each state of a skin. @param settings the collection's whole settings document */
export function readSkinDurations(settings: unknown): SkinDurations {
  const own = z
    .object({ skins: z.object({ durations: skinDurationsSchema }) })
    .partial()
    .safeParse(settings);
  return own.data?.skins?.durations ?? STARTING_SKIN_DURATIONS;
}
