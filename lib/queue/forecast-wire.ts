import { z } from 'zod';

/** What is asked for and answered about the backlog to come. */
export const forecastQuery = z.object({
  /** People more (or fewer) than today. */
  extra: z.coerce.number().int().min(-50).max(50).default(0),
  weeks: z.coerce.number().int().min(4).max(260).default(104),
});
export type ForecastQuery = z.output<typeof forecastQuery>;

const week = z.object({
  week: z.number(),
  on: z.string(),
  mean: z.number(),
  p5: z.number(),
  p25: z.number(),
  p50: z.number(),
  p75: z.number(),
  p95: z.number(),
  clearedShare: z.number(),
});
export const forecastShape = z.object({
  weeks: z.array(week),
  clears: z.object({
    early: z.string().nullable(),
    middle: z.string().nullable(),
    late: z.string().nullable(),
  }),
  little: z.object({
    meanBacklog: z.number(),
    leavingPerWeek: z.number(),
    waitWeeks: z.number().nullable(),
  }),
  runs: z.number(),
});
export type ForecastShape = z.infer<typeof forecastShape>;

export const backlogForecast = z.object({
  on: z.iso.date(),
  backlog: z.number().int(),
  /** The period that intake and pace were learned from; null in an empty collection. */
  learned: z
    .object({
      from: z.iso.date(),
      until: z.iso.date(),
      received: z.number().int(),
      prepared: z.number().int(),
      intakePerWeek: z.array(z.number()),
      people: z.array(z.number()),
      birdsPerPersonWeek: z.number(),
    })
    .nullable(),
  /** Why there is no forecast. */
  obstacle: z.string().nullable(),
  seed: z.number().int(),
  extra: z.number().int(),
  today: forecastShape.nullable(),
  /** With `extra` people more; null when there are none. */
  changed: forecastShape.nullable(),
});
export type BacklogForecast = z.infer<typeof backlogForecast>;
