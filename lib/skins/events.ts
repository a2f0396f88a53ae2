import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

export const skinEvents = defineEvents({
  'skins.moved-on': z.object({
    material: z.string(),
    from: z.string(),
    to: z.string(),
    method: z.string().nullable(),
    temperatureC: z.number().nullable(),
    doneAt: z.string(),
  }),
});
