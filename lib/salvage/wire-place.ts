import { z } from 'zod';

export const placeCheckQuery = z.object({
  coordinates: z.string().trim().max(200).optional(),
  latitude: z.coerce.number().min(-90).max(90).optional(),
  longitude: z.coerce.number().min(-180).max(180).optional(),
  uncertaintyM: z.coerce.number().positive().optional(),
  country: z.string().max(2).optional(),
  stateProvince: z.string().max(100).optional(),
  county: z.string().max(100).optional(),
});
export type PlaceCheckQuery = z.infer<typeof placeCheckQuery>;
export const placeCheckAnswer = z.object({
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  readAs: z.string().nullable(),
  problem: z.string().nullable(),
  located: z
    .object({ country: z.string(), stateProvince: z.string().nullable(), county: z.string().nullable() })
    .nullable(),
  agrees: z.boolean(),
  message: z.string().nullable(),
  suggestions: z.array(z.object({ latitude: z.number(), longitude: z.number() })),
});
export type PlaceCheckAnswer = z.infer<typeof placeCheckAnswer>;
