import { z } from 'zod';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';
import { materialKind, preparationStyleId } from '@/lib/bench/schema';

/** Requests of the bench's routes: the server checks them. */
const fieldId = z.enum(FIELD_IDS as [FieldId, ...FieldId[]]);
const instant = z.iso.datetime({ offset: true });
const version = z.int32();

export const startRequest = z.object({ birdId: z.uuid() });

const clientKey = z.string().min(8).max(60);

export const entryRequest = z.object({
  field: fieldId,
  /** Null takes the value away. */
  value: z.json(),
  method: z.string().max(60).nullable().default(null),
  /** As it was said, before any conversion of units. */
  verbatim: z.string().max(2000).nullable().default(null),
  correction: z.boolean().default(false),
  /** Repeated deliveries of one change carry the same key and are carried out once. */
  clientKey,
  /** When it was written, by the writer's own clock. */
  enteredAt: instant.optional(),
});
export type EntryRequest = z.input<typeof entryRequest>;

export const writeRequest = z.object({
  entries: z.array(entryRequest).min(1).max(200),
  /** The writer's clock at sending: tells how long ago each entry was made, however wrong that clock is. */
  sentAt: instant.optional(),
});
export type WriteRequest = z.input<typeof writeRequest>;

export const entryQuery = z.object({ field: fieldId });

export const stepRequest = z.object({
  step: z.string().max(80),
  done: z.boolean(),
  /** How long the mark waited to be sent, so that clocks run from when it was made. */
  waitedMs: z.int().min(0).default(0),
});
export const overrideRequest = z.object({
  key: z.string().min(1).max(600),
  /** Null takes the explanation away. */
  reason: z.string().trim().min(3, 'Say why the figure stands.').max(1000).nullable(),
});
export const styleRequest = z.object({ styleId: preparationStyleId, version });
export const scribeRequest = z.object({ personId: z.uuid().nullable() });
export const remarkAnswerRequest = z.object({
  remarkId: z.string().max(60),
  text: z.string().trim().min(1, 'Say what was done about it.').max(2000),
});
export const divideRequest = z.object({
  products: z
    .array(
      z.object({
        kind: materialKind.exclude(['carcass', 'vial']),
        count: z.int().min(1).max(9).default(1),
        description: z.string().trim().max(500).nullable().default(null),
      }),
    )
    .max(12),
});
export type DivideRequest = z.input<typeof divideRequest>;
export const sendRequest = z.object({
  version,
  /** Why something is missing; needed where something is. */
  explanation: z.string().trim().max(2000).nullable().default(null),
});
export const takeBackRequest = z.object({
  version,
  reason: z.string().trim().max(500).nullable().default(null),
});
