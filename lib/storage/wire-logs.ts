import { z } from 'zod';
import { temperatureUnitSchema } from './schema';

/** Requests and answers of freezer temperature logs. */
const column = z.string().trim().min(1).max(100);

export const loadLogQuery = z.object({
  fileName: z.string().trim().min(1, 'Name the file.').max(200),
  timeColumn: column,
  temperatureColumn: column,
  /** Column that names the freezer by its code, where the file has several. */
  freezerColumn: column.optional(),
  unit: temperatureUnitSchema.default('C'),
  /** "+01:00" where the logger wrote no zone. */
  utcOffset: z
    .string()
    .regex(/^[+-]\d{2}:\d{2}$/, 'Write the offset like +01:00.')
    .optional(),
  /** Warmer than this, in °C, is an excursion; left out, the freezer's own alarm counts. */
  thresholdC: z.coerce.number().min(-273.15).max(100).optional(),
  longestStepMinutes: z.coerce.number().min(1).max(10_080).default(60),
});
export type LoadLogQuery = z.infer<typeof loadLogQuery>;

const excursion = z.object({
  thresholdC: z.number(),
  fromAt: z.string(),
  toAt: z.string(),
  minutes: z.number(),
  longestMinutes: z.number().nullable(),
  peakC: z.number(),
  readings: z.int(),
  isOpenEnded: z.boolean(),
});
export const storedExcursions = z.array(excursion);
export const storedGaps = z.array(z.object({ fromAt: z.string(), toAt: z.string(), minutes: z.number() }));
export const storedRemarks = z.array(z.object({ line: z.int(), message: z.string() }));

export const logRow = z.object({
  id: z.uuid(),
  unitId: z.uuid(),
  unitName: z.string(),
  fileName: z.string(),
  fromAt: z.string(),
  toAt: z.string(),
  readings: z.int(),
  thresholdC: z.number(),
  coldestC: z.number(),
  warmestC: z.number(),
  meanC: z.number(),
  /** Null where it means nothing; the remark says why. */
  kineticMeanC: z.number().nullable(),
  kineticRemark: z.string(),
  minutesAbove: z.number(),
  excursions: storedExcursions,
  gaps: storedGaps,
  remarks: storedRemarks,
  loadedAt: z.string(),
});
export type LogRow = z.infer<typeof logRow>;
export const logRows = z.object({ rows: z.array(logRow), mayLoad: z.boolean() });
