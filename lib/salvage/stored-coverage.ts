import { z } from 'zod';
import { coverageResult } from '@/lib/permits/schema';

/** The last check of a find, as its row keeps it. */
export const storedCoverage = z.object({
  checkedAt: z.string(),
  groupSize: z.number().int(),
  result: coverageResult,
});
export type StoredCoverage = z.infer<typeof storedCoverage>;
