import { z } from 'zod';
import { SEXES } from './schema';

/** Sides of the map's grid cells in degrees, fine to coarse; each divides the next. */
export const MAP_STEPS = [0.05, 0.1, 0.5, 1, 5, 10] as const;
export type MapStep = (typeof MAP_STEPS)[number];
/** A map has no more marks than this: a coarser grid is taken instead. */
export const MOST_MARKS = 2000;

const q = z.string().max(2000).default('');
const problems = z.array(z.object({ at: z.number().int(), length: z.number().int(), message: z.string() }));

export const mapQuery = z.object({
  q,
  step: z.coerce
    .number()
    .refine((step) => (MAP_STEPS as readonly number[]).includes(step), `One of ${MAP_STEPS.join(', ')}.`)
    .default(1)
    .meta({ description: 'Side of a grid cell in degrees.' }),
});
export type MapQuery = z.output<typeof mapQuery>;

export const mapMark = z.object({
  id: z.string(),
  /** Where the mark is drawn: the mean of the points shown to this reader, or the middle of a county or state. */
  latitude: z.number(),
  longitude: z.number(),
  count: z.number().int(),
  /** How many of them stand at a coarser place than is recorded. */
  coarse: z.number().int(),
  /** The counties in it, as "County, State". */
  places: z.array(z.string()),
  /** Terms that narrow the search to these birds. */
  terms: z.array(z.string()),
});
export type MapMark = z.infer<typeof mapMark>;

export const mapAnswer = z.object({
  /** `points`: clusters of points; `counties`: one mark a county (or state), as much as this reader may know. */
  by: z.enum(['points', 'counties']),
  /** Side of the cells drawn, in degrees; coarser than asked where there were too many marks. */
  step: z.number(),
  marks: z.array(mapMark).max(MOST_MARKS),
  total: z.number().int(),
  /** Hits that cannot be drawn: no coordinates, or no outline of their county, state and country. */
  unplaced: z.number().int(),
  problems,
});
export type MapAnswer = z.infer<typeof mapAnswer>;

export const chartsQuery = z.object({ q });

/** Counts by a first thing and a second: `counts[i]` belongs to `series[i]`. */
const crossTable = <Key extends z.ZodType>(key: Key) =>
  z.object({
    series: z.array(z.string()),
    rows: z.array(z.object({ key, counts: z.array(z.number().int()) })),
    /** What could not be put anywhere, because its date is not known so closely. */
    unknown: z.number().int(),
  });

export const MEASURES = ['massG', 'wingMm', 'tailMm', 'tarsusMm'] as const;
export type MeasureId = (typeof MEASURES)[number];

export const measureSummary = z.object({
  field: z.enum(MEASURES),
  sex: z.enum(SEXES),
  count: z.number().int(),
  least: z.number(),
  lowerQuartile: z.number(),
  median: z.number(),
  upperQuartile: z.number(),
  most: z.number(),
});
export type MeasureSummary = z.infer<typeof measureSummary>;

export const chartsAnswer = z.object({
  total: z.number().int(),
  /** Kinds of bird among the hits: measures of several mean little together. */
  taxa: z.number().int(),
  /** Month found × suspected cause. */
  months: crossTable(z.number().int()),
  /** Year found × sex. */
  years: crossTable(z.number().int()),
  sexes: z.object({
    female: z.number().int(),
    male: z.number().int(),
    undetermined: z.number().int(),
    /** Of the sexed birds, with a 95 % interval (Wilson); null where none is sexed. */
    femaleShare: z.object({ share: z.number(), low: z.number(), high: z.number() }).nullable(),
  }),
  measures: z.array(measureSummary),
  problems,
});
export type ChartsAnswer = z.infer<typeof chartsAnswer>;

export const numbersQuery = z.object({ years: z.coerce.number().int().min(1).max(20).default(3) });
export type NumbersQuery = z.output<typeof numbersQuery>;

export const numbersAnswer = z.object({
  from: z.iso.date(),
  until: z.iso.date(),
  /** Month received ("2026-03") × suspected cause. */
  intake: crossTable(z.string()),
  /** Who finished preparations (name) × style. */
  prepared: crossTable(z.string()),
  /** Birds in the freezer by how long they have lain there. */
  freezer: z.array(z.object({ age: z.string(), count: z.number().int() })),
  /** At the end of each month, and today. */
  backlog: z.array(
    z.object({
      month: z.string(),
      received: z.number().int(),
      left: z.number().int(),
      waiting: z.number().int(),
    }),
  ),
  /** Birds that have left, nobody knows on which day: not in the backlog's course. */
  undated: z.number().int(),
});
export type NumbersAnswer = z.infer<typeof numbersAnswer>;
