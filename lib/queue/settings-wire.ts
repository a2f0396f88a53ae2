import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import {
  claimSettingsSchema,
  planSettingsSchema,
  priorityScalesSchema,
  priorityWeightsSchema,
  SIZE_CLASSES,
  sizeSettingsSchema,
} from './schema';

/** The part of the queue's settings that its own page sets. */
export const queueChoices = z.object({
  weights: priorityWeightsSchema,
  scales: priorityScalesSchema,
  claims: claimSettingsSchema,
  plan: planSettingsSchema,
  leadHours: sizeSettingsSchema.shape.leadHours
    .unwrap()
    .refine((hours) => SIZE_CLASSES.every((size) => hours[size] !== undefined), 'Each size needs its hours.'),
});
export type QueueChoices = z.output<typeof queueChoices>;

/** `from` is what the person saw: a change that somebody else saved meanwhile is not overwritten. */
export const settingsChange = z.object({ from: queueChoices, to: queueChoices });
export type SettingsChange = z.output<typeof settingsChange>;

export const settingsAnswer = z.object({ choices: queueChoices, mayChange: z.boolean() });

const moved = z.object({
  birdId: z.string(),
  label: z.string(),
  rankBefore: z.number(),
  rankAfter: z.number(),
  totalBefore: z.number(),
  totalAfter: z.number(),
});
export const weightsPreview = z.object({
  /** The birds that would move farthest, at most twenty. */
  moved: z.array(moved),
  movedCount: z.number().int(),
  unmoved: z.number().int(),
});
export type WeightsPreview = z.infer<typeof weightsPreview>;

const weightsAndScales = z.object({ weights: priorityWeightsSchema, scales: priorityScalesSchema });
export type WeightsAndScales = z.output<typeof weightsAndScales>;

/** Weights and scales written as JSON into the address: a preview is a read. */
export const previewQuery = z.object({
  proposal: z
    .string()
    .max(2000)
    .transform((text, context): unknown => {
      try {
        return JSON.parse(text);
      } catch {
        context.addIssue({ code: 'custom', message: say('Not JSON.') });
        return z.NEVER;
      }
    })
    .pipe(weightsAndScales),
});
