import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

export const skeletonEvents = defineEvents({
  'skeletons.book-saved': z.object({
    bird: z.string(),
    /** How many entries are in each place, missing or undecided. */
    counts: z.record(z.string(), z.number().int()),
    balanced: z.boolean(),
    /** By element and side: where it was, where it is. */
    changes: changesShape,
  }),
  'skeletons.procedure-chosen': z.object({
    material: z.string(),
    procedure: z.string(),
    step: z.string(),
    doneAt: z.string(),
  }),
  'skeletons.step-begun': z.object({
    material: z.string(),
    from: z.string(),
    to: z.string(),
    state: z.string(),
    method: z.string().nullable(),
    temperatureC: z.number().nullable(),
    doneAt: z.string(),
  }),
  'skeletons.shelved': z.object({ material: z.string(), from: z.string(), doneAt: z.string() }),
  'skeletons.box-counted': z.object({
    material: z.string(),
    pieces: z.number().int(),
    questions: z.array(z.string()),
  }),
  'skeletons.question-answered': z.object({
    material: z.string(),
    question: z.string(),
    answer: z.string(),
  }),
  'skeletons.procedures-changed': z.object({ procedures: z.array(z.string()) }),
});
