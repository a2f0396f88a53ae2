import { z } from 'zod';
import { benchTimes, clockSettings } from '@/lib/bench/clock-schema';
import { BENCH_STATES, benchState, preparationStyleId } from '@/lib/bench/schema';
import { pageOf, pageQuery } from '@/lib/platform/paging';

/** The list of records and the desk above it: apart from a record's own shapes, which know every field. */
const person = z.object({ id: z.uuid(), name: z.string() });

export const benchListQuery = pageQuery.extend({
  states: z
    .string()
    .transform((text) => text.split(','))
    .pipe(z.array(z.enum(BENCH_STATES)).min(1))
    .default(['draft', 'returned', 'in-review']),
  /** Only records that this person works on. */
  workerId: z.uuid().optional(),
  q: z.string().trim().max(100).optional(),
});
export type BenchListQuery = z.infer<typeof benchListQuery>;

export const benchRow = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  number: z.string(),
  prepNumber: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  state: benchState,
  carcassState: z.string(),
  styleId: preparationStyleId,
  preparator: person,
  scribe: person.nullable(),
  startedAt: z.string(),
  sentAt: z.string().nullable(),
  openRemarks: z.number().int(),
  mine: z.boolean(),
});
export type BenchRow = z.infer<typeof benchRow>;
export const benchPage = pageOf(benchRow);

/** A bird that somebody took and that has no record yet. */
export const claimedBird = z.object({
  birdId: z.uuid(),
  number: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  state: z.string(),
  styleId: preparationStyleId.nullable(),
  claimedBy: person,
  claimExpiresAt: z.string().nullable(),
  thawStartedAt: z.string().nullable(),
  mayStart: z.boolean(),
});

export const runningClock = z.object({
  recordId: z.uuid().nullable(),
  birdId: z.uuid(),
  number: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  by: person.nullable(),
  times: benchTimes,
});

/** What one person has to do next at the bench. */
export const benchDesk = z.object({
  records: z.array(benchRow),
  claimed: z.array(claimedBird),
  clocks: z.array(runningClock),
  clockSettings,
});
export type BenchDesk = z.infer<typeof benchDesk>;
