import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

export const auditEvents = defineEvents({
  'audit.place-looked-at': z.object({ number: z.string() }),
});
