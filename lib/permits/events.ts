import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const numbered = z.object({ number: z.string(), authority: z.string() });

export const permitEvents = defineEvents({
  'permits.created': numbered.extend({
    kind: z.string(),
    effectiveOn: z.string(),
    expiresOn: z.string().nullable(),
    renews: z.string().nullable(),
  }),
  'permits.amended': numbered.extend({ effectiveOn: z.string(), changes: changesShape }),
  'permits.corrected': numbered.extend({ changes: changesShape }),
  'permits.renewed': numbered.extend({ by: z.string() }),
  'permits.reminded': z.object({
    number: z.string(),
    key: z.string(),
    what: z.enum(['expiring', 'report-due']),
    days: z.number().int(),
  }),
  'permits.pack-loaded': z.object({ pack: z.string(), version: z.string(), kept: z.array(z.string()) }),
  'permits.pack-switched': z.object({ pack: z.string(), version: z.string(), active: z.boolean() }),
  'permits.rule-confirmed': z.object({
    pack: z.string(),
    version: z.string(),
    rule: z.string(),
    cite: z.string(),
  }),
  'permits.rule-doubted': z.object({ pack: z.string(), version: z.string(), rule: z.string() }),
  'permits.list-imported': z.object({
    list: z.string(),
    edition: z.string(),
    names: z.number().int(),
    unresolved: z.number().int(),
    leftOut: z.number().int(),
  }),
  'permits.status-decided': z.object({
    name: z.string(),
    jurisdiction: z.string(),
    status: z.string(),
    cite: z.string(),
  }),
  'permits.decision-withdrawn': z.object({ name: z.string(), jurisdiction: z.string() }),
});
