import { z } from 'zod';

export const SKIN_STATES = ['pinned', 'drying', 'dry', 'pest-freeze', 'shelved'] as const;
export type SkinState = (typeof SKIN_STATES)[number];

/** Shortest and longest days a skin should be in a state; `shelved` has no end. */
const daysSchema = z
  .strictObject({ min: z.number().min(0).max(3650), max: z.number().min(0).max(3650) })
  .refine(({ min, max }) => min <= max, 'The shortest time is longer than the longest.');

export const skinDurationsSchema = z.strictObject({
  pinned: daysSchema,
  drying: daysSchema,
  dry: daysSchema,
  'pest-freeze': daysSchema,
});
export type SkinDurations = z.infer<typeof skinDurationsSchema>;

/** Move skins together to their next state. */
export const moveSkinsRequest = z.strictObject({
  materialIds: z.array(z.uuid()).min(1).max(500),
  to: z.enum(SKIN_STATES),
  note: z.string().trim().max(2000).nullable().default(null),
});
export type MoveSkinsRequest = z.infer<typeof moveSkinsRequest>;

/** One stay in a freezer against pests. Instants in ISO 8601; degrees Celsius. */
export const freezerRunSchema = z.strictObject({
  startedAt: z.iso.datetime({ offset: true }),
  endedAt: z.iso.datetime({ offset: true }),
  temperatureC: z.number().min(-196).max(30),
});
export type FreezerRun = z.infer<typeof freezerRunSchema>;
