import { z } from 'zod';
import { importRecord } from './schema';

/** What an import keeps of its file and its fate, beside its counters. */
export const importSummary = importRecord
  .pick({
    header: true,
    notes: true,
    sample: true,
    suggestions: true,
    check: true,
    failure: true,
    undone: true,
  })
  .extend({
    check: importRecord.shape.check.default(null),
    failure: z.string().nullable().default(null),
    undone: importRecord.shape.undone.default(null),
  });
export type ImportSummary = z.output<typeof importSummary>;
