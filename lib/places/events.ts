import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

export const placesEvents = defineEvents({
  'places.added': z.object({
    name: z.string(),
    latitude: z.number().nullable(),
    longitude: z.number().nullable(),
    uncertaintyM: z.number().nullable(),
    verbatimCoordinates: z.string().nullable(),
  }),
  'places.changed': z.object({ name: z.string(), changes: changesShape }),
});
