import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const bird = z.object({ bird: z.string() });

export const queueEvents = defineEvents({
  'queue.queued': bird.extend({ style: z.string(), sizeClass: z.string(), priority: z.number() }),
  'queue.taken': bird.extend({ by: z.string(), supervisor: z.string().nullable(), until: z.string() }),
  'queue.put-back': bird.extend({ from: z.string() }),
  'queue.handed-over': bird.extend({ from: z.string(), to: z.string() }),
  'queue.requested': bird.extend({ urgency: z.string() }),
  'queue.carcass-moved': bird.extend({ act: z.string(), from: z.string(), to: z.string() }),
  'queue.skill-signed': z.object({
    person: z.string(),
    style: z.string(),
    sizeClass: z.string(),
    level: z.string().nullable(),
  }),
  'queue.priorities-computed': z.object({ birds: z.number().int() }),
});
