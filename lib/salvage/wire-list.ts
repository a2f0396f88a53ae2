import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { coverageWord, salvageState } from './schema';
import { salvageRow } from './wire';

const day = z.iso.date();

export const salvageListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  /** Several, with commas between; 'waiting' is what triage has to do. */
  state: z
    .string()
    .regex(
      /^(waiting|(reported|in-triage|accepted|declined|on-hold)(,(reported|in-triage|accepted|declined|on-hold))*)$/,
    )
    .optional(),
  coverage: coverageWord.optional(),
  county: z.string().trim().max(100).optional(),
  from: day.optional(),
  to: day.optional(),
  hold: z.string().max(30).optional(),
  permitId: z.uuid().optional(),
});
export type SalvageListQuery = z.infer<typeof salvageListQuery>;

export const salvagePage = pageOf(salvageRow).extend({ counts: z.record(salvageState, z.number().int()) });
export type SalvagePage = z.infer<typeof salvagePage>;
