import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const number = z.object({ number: z.string() });

export const catalogueEvents = defineEvents({
  'catalogue.returned': number.extend({
    remarks: z.array(z.object({ field: z.string(), remark: z.string() })),
    /** The bone book as it then stood, a line an entry, for the differences at the next review. */
    bones: z.array(z.string()),
  }),
  'catalogue.approved': number.extend({
    catalogueNumber: z.string(),
    /** Points that stood in the way, and how they were explained. */
    explained: z.array(z.object({ point: z.string(), explanation: z.string() })),
  }),
  'catalogue.amended': number.extend({ field: z.string(), from: z.unknown(), to: z.unknown() }),
  'catalogue.determined': number.extend({
    from: z.string().nullable(),
    to: z.string(),
    by: z.string(),
    on: z.string(),
  }),
  'catalogue.deaccessioned': z.object({
    material: z.string(),
    method: z.string(),
    on: z.string(),
    authority: z.string(),
    document: z.string(),
    recipient: z.string().nullable(),
  }),
  'catalogue.exported': z.object({
    q: z.string(),
    columns: z.array(z.string()),
    form: z.enum(['csv', 'xlsx']).optional(),
    /** How many were chosen by hand; missing where the whole result went. */
    chosen: z.number().int().optional(),
  }),
  'catalogue.view-saved': z.object({ name: z.string(), shared: z.boolean() }),
  'catalogue.view-removed': z.object({ name: z.string() }),
});
