import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';

export const historyQuery = pageQuery.extend({
  subjectType: z.string().max(40).optional(),
  subjectId: z.uuid().optional(),
  birdId: z.uuid().optional(),
});
export type HistoryQuery = z.infer<typeof historyQuery>;

export const historyEvent = z.object({
  id: z.uuid(),
  seq: z.number().int(),
  at: z.string(),
  actorName: z.string(),
  kind: z.string(),
  subjectType: z.string(),
  subjectId: z.uuid(),
  payload: z.record(z.string(), z.unknown()),
  reason: z.string().nullable(),
});
export type HistoryEvent = z.infer<typeof historyEvent>;
export const historyPage = pageOf(historyEvent);

/** Outcome of walking a collection's chain. `firstBad` names the first row that does not fit, and why. */
export const chainVerdict = z.object({
  collectionId: z.uuid(),
  rows: z.number().int(),
  head: z.string(),
  ok: z.boolean(),
  firstBad: z.object({ seq: z.number().int(), why: z.string() }).nullable(),
});
export type ChainVerdict = z.infer<typeof chainVerdict>;

/**
 * A chain's end as it once stood, kept outside the chain: number and digest of its last row. `source` names the keeper
 * in a sentence ("the signed report 2025 of permit MB-1").
 */
export const chainAnchor = z.object({
  collectionId: z.uuid(),
  seq: z.number().int().min(0),
  digest: z.string().regex(/^([0-9a-f]{64})?$/, 'A digest is 64 hexadecimal digits.'),
  source: z.string().min(1),
});
export type ChainAnchor = z.infer<typeof chainAnchor>;
