import { z } from 'zod';
import { pageOf } from '@/lib/platform/paging';

export const slipRow = z.object({
  id: z.uuid(),
  label: z.string(),
  createdAt: z.string(),
  revokedAt: z.string().nullable(),
  reports: z.number().int(),
  lastUsedAt: z.string().nullable(),
});
export type SlipRow = z.infer<typeof slipRow>;
export const slipPage = pageOf(slipRow);
/** `path` is the address behind the printed code. */
export const slipMade = slipRow.extend({ path: z.string() });

export const dropOffAnswer = z.object({ received: z.literal(true), code: z.string() });
