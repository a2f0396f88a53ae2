import { z } from 'zod';
import { expectedDaysSchema } from '@/lib/platform/days';
import { processQuery, stepDetails } from '@/lib/storage/schema';

export const SKIN_STATES = ['pinned', 'drying', 'dry', 'pest-freeze', 'shelved'] as const;
export type SkinState = (typeof SKIN_STATES)[number];

/** What dries like a skin and is followed here. */
export const SKIN_KINDS = ['skin', 'wing', 'flat-skin'] as const;

export const skinDurationsSchema = z.strictObject({
  pinned: expectedDaysSchema,
  drying: expectedDaysSchema,
  dry: expectedDaysSchema,
  'pest-freeze': expectedDaysSchema,
});
export type SkinDurations = z.infer<typeof skinDurationsSchema>;

export const skinListQuery = processQuery.extend({ state: z.enum(SKIN_STATES).optional() });
export type SkinListQuery = z.output<typeof skinListQuery>;

/** Move skins together to one state. */
export const advanceSkinsRequest = stepDetails.extend({ to: z.enum(SKIN_STATES) });
export type AdvanceSkinsRequest = z.infer<typeof advanceSkinsRequest>;
