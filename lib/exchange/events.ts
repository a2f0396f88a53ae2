import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const file = z.object({ fileName: z.string() });

export const exchangeEvents = defineEvents({
  'exchange.exported': z.object({
    form: z.string(),
    birds: z.string(),
    places: z.string(),
    since: z.string().nullable(),
  }),
  'exchange.token-made': z.object({
    name: z.string(),
    person: z.string(),
    scopes: z.array(z.string()),
    expiresOn: z.string(),
  }),
  'exchange.token-revoked': z.object({ name: z.string(), person: z.string() }),
  'exchange.webhook-made': z.object({ name: z.string(), address: z.string(), stages: z.array(z.string()) }),
  'exchange.webhook-switched': z.object({ name: z.string(), active: z.boolean() }),
  'exchange.webhook-resent': z.object({ name: z.string(), delivery: z.string() }),
  'exchange.import-handed-in': file,
  'exchange.import-check-begun': file.extend({ columns: z.record(z.string(), z.string()) }),
  'exchange.import-checked': file.extend({ rows: z.number().int(), withErrors: z.number().int() }),
  'exchange.import-begun': file,
  'exchange.import-cancelled': file,
  'exchange.import-ended': file.extend({
    state: z.string(),
    made: z.number().int(),
    failed: z.number().int(),
    failure: z.string().nullable(),
  }),
  'exchange.import-undo-begun': file,
  'exchange.import-undone': file.extend({ takenBack: z.number().int(), kept: z.number().int() }),
});
