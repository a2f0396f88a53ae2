import { z } from 'zod';

/** How long the work at the bench may take: settings of the lab. Start values: common practice, no source. */
export const clockSettings = z.object({
  /** Tissue is due within this time after the bird is workable. */
  tissueWithinMinutes: z.int().min(5).max(1440).default(60),
  /** After this long out of the freezer the clock asks to finish or to freeze again. */
  timeOutAfterHours: z.int().min(1).max(240).default(24),
});
export type ClockSettings = z.infer<typeof clockSettings>;

/** Instants in ISO 8601; null while they have not happened. */
export const benchTimes = z.object({
  outOfFreezerAt: z.string().nullable(),
  workableAt: z.string().nullable(),
  tissueTakenAt: z.string().nullable(),
  finishedAt: z.string().nullable(),
  /** How long before the work a bird of this size leaves the freezer. */
  leadHours: z.number(),
});
export type SentTimes = z.infer<typeof benchTimes>;
