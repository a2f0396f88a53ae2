import { z } from 'zod';

/** A taxon of the current checklist that a person may choose. */
export const taxonChoice = z.object({
  id: z.uuid(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  rank: z.string(),
  familyName: z.string().nullable(),
  sensitive: z.boolean(),
  /** The synonym that was found, when it was not the accepted name. */
  foundAs: z.string().nullable(),
});
export type TaxonChoice = z.infer<typeof taxonChoice>;
export const taxonChoices = z.object({ rows: z.array(taxonChoice) });
