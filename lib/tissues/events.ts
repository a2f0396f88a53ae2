import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const vial = z.string();

export const tissueEvents = defineEvents({
  'tissues.filled': z.object({
    vial,
    tissues: z.array(z.string()),
    preservation: z.string(),
    amount: z.string().nullable(),
    quality: z.string(),
  }),
  'tissues.used': z.object({
    vial,
    amount: z.string(),
    left: z.string(),
    purpose: z.string(),
    thawed: z.boolean(),
  }),
  'tissues.divided': z.object({
    vial,
    amount: z.string(),
    left: z.string(),
    made: z.string(),
    thawed: z.boolean(),
  }),
  'tissues.changed': z.object({ vial, changes: changesShape }),
  'tissues.lost': z.object({ vial }),
  'tissues.found': z.object({ vial }),
  'tissues.used-up': z.object({ vial, left: z.string().nullable() }),
  'tissues.thaw-counted': z.object({ vial, from: z.number(), to: z.number(), log: z.string() }),
});
