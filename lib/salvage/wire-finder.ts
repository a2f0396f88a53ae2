import { z } from 'zod';
import { finderContact } from './schema';

export const finderAnswer = finderContact.extend({ erasedAt: z.string().nullable() });
export type FinderAnswer = z.infer<typeof finderAnswer>;

/** All that is kept of one finder; instants are ISO 8601, days YYYY-MM-DD. */
export const finderExport = z.object({
  madeAt: z.string(),
  /** One entry a report: the same person may have made several, under one e-mail or telephone. */
  finders: z.array(
    finderAnswer.extend({
      createdAt: z.string(),
      finds: z.array(
        z.object({
          number: z.string(),
          state: z.string(),
          receiptCode: z.string().nullable(),
          loggedAt: z.string(),
          receivedOn: z.string(),
          foundFrom: z.string(),
          foundTo: z.string(),
          verbatimDate: z.string().nullable(),
          verbatimTaxon: z.string(),
          country: z.string(),
          stateProvince: z.string(),
          county: z.string(),
          locality: z.string(),
          latitude: z.number().nullable(),
          longitude: z.number().nullable(),
          circumstances: z.string(),
          custody: z.array(z.object({ at: z.string(), from: z.string(), to: z.string() })),
        }),
      ),
    }),
  ),
});
export type FinderExport = z.infer<typeof finderExport>;
