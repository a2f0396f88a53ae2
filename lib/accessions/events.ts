import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

export const accessionEvents = defineEvents({
  'accessions.made': z.object({
    number: z.string(),
    kind: z.string(),
    source: z.string(),
    lots: z.array(z.string()),
  }),
  'accessions.lot-added': z.object({ number: z.string(), accession: z.string() }),
  'accessions.changed': z.object({ changes: changesShape }),
});
