import { z } from 'zod';
import {
  claimSettingsSchema,
  planSettingsSchema,
  priorityScalesSchema,
  priorityWeightsSchema,
  sizeSettingsSchema,
  timeSettingsSchema,
} from './schema';

/** The queue's part of a collection's settings; what is not set has its start value. */
export const queueSettingsSchema = z.object({
  claims: claimSettingsSchema.prefault({}),
  weights: priorityWeightsSchema.prefault({}),
  scales: priorityScalesSchema.prefault({}),
  sizes: sizeSettingsSchema.prefault({}),
  times: timeSettingsSchema.prefault({}),
  plan: planSettingsSchema.prefault({}),
  /** How many of a taxon the collection wants before it counts as well represented. */
  wantedPerTaxon: z.number().int().min(1).default(20),
});
export type QueueSettings = z.infer<typeof queueSettingsSchema>;

const whole = z.object({ queue: z.unknown() }).partial();

/** @param settings the collection's whole settings document */
export function readQueueSettings(settings: unknown): QueueSettings {
  const own = whole.safeParse(settings);
  return queueSettingsSchema.parse(own.data?.queue ?? {});
}
