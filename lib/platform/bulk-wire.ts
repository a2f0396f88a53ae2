import { z } from 'zod';

/** Rows that are chosen by hand at once. */
export const MAX_CHOSEN = 100;

export const chosenBirds = z.object({
  birdIds: z
    .array(z.uuid())
    .min(1, 'Choose at least one bird.')
    .max(MAX_CHOSEN, `At most ${MAX_CHOSEN} birds at once.`),
});

/** What became of each row, in the order they were given: `problem` says why nothing was changed in it. */
export const bulkAnswer = z.object({
  rows: z.array(z.object({ id: z.uuid(), problem: z.string().nullable() })),
});
export type BulkAnswer = z.infer<typeof bulkAnswer>;
