import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import {
  CARCASS_STATES,
  PRIORITY_COMPONENTS,
  preparationStyleSchema,
  REQUEST_URGENCIES,
  sizeClassSchema,
  skillLevelSchema,
} from './schema';

/** Requests and answers of the queue's routes. */
const states = z
  .string()
  .transform((text) => text.split(','))
  .pipe(z.array(z.enum(CARCASS_STATES)).min(1));

export const queueListQuery = pageQuery.extend({
  states: states.default(['queued']),
  style: preparationStyleSchema.optional(),
  sizeClass: sizeClassSchema.optional(),
  claimedById: z.uuid().optional(),
  held: z
    .enum(['yes', 'no'])
    .transform((answer) => answer === 'yes')
    .optional(),
  q: z.string().trim().max(100).optional(),
});
export type QueueListQuery = z.output<typeof queueListQuery>;

export const priorityPart = z.object({
  component: z.enum(PRIORITY_COMPONENTS),
  score: z.number(),
  weight: z.number(),
  contribution: z.number(),
  sentence: z.string(),
});

export const queueAbilities = z.object({
  take: z.boolean(),
  /** It can be taken once a supervisor is named. */
  takeBeside: z.boolean(),
  putBack: z.boolean(),
  handOver: z.boolean(),
  takeOut: z.boolean(),
  startBench: z.boolean(),
  prioritise: z.boolean(),
  /** Why it cannot be taken by this person; null when it can, or is not theirs to ask. */
  obstacle: z.string().nullable(),
});

export const queueRow = z.object({
  id: z.uuid(),
  number: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  state: z.enum(CARCASS_STATES),
  style: preparationStyleSchema.nullable(),
  sizeClass: sizeClassSchema,
  condition: z.string(),
  cause: z.string(),
  priority: z.number(),
  parts: z.array(priorityPart),
  holds: z.array(z.object({ kind: z.string(), reason: z.string(), liftedBy: z.array(z.string()) })),
  place: z.string().nullable(),
  frozenAt: z.string().nullable(),
  thawStartedAt: z.string().nullable(),
  claimedBy: z.object({ id: z.uuid(), name: z.string() }).nullable(),
  coWorker: z.object({ id: z.uuid(), name: z.string() }).nullable(),
  claimExpiresAt: z.string().nullable(),
  request: z.string().nullable(),
  accessioned: z.boolean(),
  version: z.int32(),
  abilities: queueAbilities,
});
export type QueueRow = z.infer<typeof queueRow>;
export const queuePage = pageOf(queueRow);

export const enqueueRequest = z.object({
  birdIds: z.array(z.uuid()).min(1, 'Choose at least one bird.').max(200),
  style: preparationStyleSchema,
  sizeClass: sizeClassSchema,
});
export type EnqueueRequest = z.infer<typeof enqueueRequest>;
export const enqueueAnswer = z.object({ queued: z.number().int() });

export const requestBird = z.object({
  version: z.int32(),
  urgency: z.enum(REQUEST_URGENCIES),
  reason: z.string().trim().min(1, 'Say why this bird is wanted.').max(500),
});

export const skillChange = z.object({
  personId: z.uuid(),
  style: preparationStyleSchema,
  sizeClass: sizeClassSchema,
  level: skillLevelSchema.nullable(),
});
export type SkillChange = z.infer<typeof skillChange>;

export const benchPerson = z.object({
  id: z.uuid(),
  name: z.string(),
  supervises: z.boolean(),
  skills: z.array(
    z.object({ style: preparationStyleSchema, sizeClass: sizeClassSchema, level: skillLevelSchema }),
  ),
});
export type BenchPerson = z.infer<typeof benchPerson>;
export const benchPeople = z.object({ people: z.array(benchPerson) });

/** How a carcass leaves before it is prepared, and what must be kept of it for the salvage report. */
const leaves = {
  version: z.int32(),
  on: z.iso.date(),
  reason: z.string().trim().min(1, 'Say why.').max(500),
};
const named = z.string().trim().min(1).max(300);
export const disposeRequest = z.discriminatedUnion('act', [
  z.object({ ...leaves, act: z.literal('discard'), method: named, witness: named }),
  z.object({ ...leaves, act: z.literal('transfer'), recipient: named, recipientAuthority: named }),
  z.object({ ...leaves, act: z.literal('release'), recipient: named, instruction: named }),
]);
export type DisposeRequest = z.infer<typeof disposeRequest>;
