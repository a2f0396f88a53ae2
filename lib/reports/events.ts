import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const report = z.object({
  permit: z.string(),
  fromOn: z.string(),
  untilOn: z.string(),
  edition: z.number().int(),
});

export const reportEvents = defineEvents({
  'reports.opened': report,
  'reports.explained': report.extend({ warning: z.string(), text: z.string() }),
  'reports.made-ready': report,
  'reports.signed': report.extend({ digest: z.string(), birds: z.number().int(), onHand: z.number().int() }),
  'reports.amended': report.extend({ replaces: z.number().int() }),
});
