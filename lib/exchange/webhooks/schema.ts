import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';

/** Stages whose events can be told outside. */
export const WEBHOOK_STAGES = [
  'salvage',
  'permits',
  'accessions',
  'queue',
  'bench',
  'tissues',
  'skins',
  'skeletons',
  'catalogue',
  'loans',
  'storage',
  'attachments',
  'reports',
] as const;

export const webhookRequest = z.object({
  name: z.string().trim().min(1, 'Say who is told.').max(80),
  address: z.string().trim().min(1, 'Give the address.').max(500),
  stages: z.array(z.enum(WEBHOOK_STAGES)).min(1, 'Choose at least one stage.').max(WEBHOOK_STAGES.length),
});
export type WebhookRequest = z.infer<typeof webhookRequest>;

export const webhookRow = z.object({
  id: z.uuid(),
  name: z.string(),
  address: z.string(),
  stages: z.array(z.string()),
  active: z.boolean(),
  /** Deliveries given up since the last that arrived. */
  givenUpInRow: z.number().int(),
  createdAt: z.string(),
});
export type WebhookRow = z.infer<typeof webhookRow>;
export const webhookRows = z.object({ rows: z.array(webhookRow) });
/** The secret is in this answer and in no other. */
export const webhookMade = z.object({ secret: z.string(), row: webhookRow });
export const webhookSwitch = z.object({
  active: z.boolean(),
  reason: z.string().trim().min(1, 'Say why.').max(300),
});
export type WebhookSwitch = z.infer<typeof webhookSwitch>;

export const deliveryRow = z.object({
  id: z.uuid(),
  webhookId: z.uuid(),
  to: z.string(),
  kind: z.string(),
  at: z.string(),
  state: z.enum(['waiting', 'delivered', 'given-up']),
  attempts: z.number().int(),
  lastError: z.string().nullable(),
  deliveredAt: z.string().nullable(),
});
export type DeliveryRow = z.infer<typeof deliveryRow>;
export const deliveryPage = pageOf(deliveryRow);
export const deliveryQuery = pageQuery;

/** What is sent: ids and kinds. Whoever hears of it asks the API what its token may know. */
export const deliveryBody = z.object({
  delivery: z.uuid(),
  collectionId: z.uuid(),
  seq: z.number().int(),
  kind: z.string(),
  subjectType: z.string(),
  subjectId: z.uuid(),
  birdId: z.uuid().nullable(),
  at: z.string(),
});
