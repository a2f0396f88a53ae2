import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const edition = z.object({ name: z.string(), edition: z.string() });

export const taxaEvents = defineEvents({
  'taxa.checklist-handed-in': edition.extend({ fileName: z.string() }),
  'taxa.checklist-read': edition.extend({ taxa: z.number().int(), leftOut: z.number().int() }),
  'taxa.checklist-failed': edition.extend({ failure: z.string() }),
  'taxa.checklist-made-current': edition.extend({
    replaced: z.string().nullable(),
    names: z.record(z.string(), z.number().int()),
    birds: z.number().int(),
  }),
  'taxa.name-carried': z.object({ from: z.string(), to: z.string(), because: z.string() }),
  'taxa.sensitivity-changed': z.object({ taxon: z.string(), changes: changesShape }),
});
