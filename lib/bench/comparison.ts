import { z } from 'zod';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';

const fieldId = z.enum(FIELD_IDS as [FieldId, ...FieldId[]]);
const peer = { sex: z.string().nullable(), month: z.number().int().nullable() };

/** What a record's numbers are held against: other birds of the taxon here, and loaded reference tables. */
export const comparison = z.object({
  scientificName: z.string(),
  /** Order of the taxon. */
  order: z.string().nullable(),
  /** Month of death, when it is known to the month. */
  month: z.number().int().nullable(),
  /** What birds of one sex that died in one month have as one number. */
  numbers: z.array(z.object({ field: fieldId, ...peer, values: z.array(z.number()) })),
  gonads: z.array(
    z.object({
      field: fieldId,
      size: z.object({ lengthMm: z.number(), widthMm: z.number().optional() }),
      ...peer,
    }),
  ),
  /** Measures of the taxon in the reference table that was loaded last. */
  reference: z
    .object({ title: z.string(), source: z.string(), measures: z.partialRecord(fieldId, z.number()) })
    .nullable(),
});
export type Comparison = z.infer<typeof comparison>;
