import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const bird = z.object({ bird: z.string() });

const plan = z.object({ planOn: z.string() });

export const queueEvents = defineEvents({
  'queue.queued': bird.extend({ style: z.string(), sizeClass: z.string(), priority: z.number() }),
  'queue.taken': bird.extend({ by: z.string(), supervisor: z.string().nullable(), until: z.string() }),
  'queue.put-back': bird.extend({ from: z.string() }),
  'queue.handed-over': bird.extend({ from: z.string(), to: z.string() }),
  'queue.requested': bird.extend({ urgency: z.string() }),
  'queue.carcass-moved': bird.extend({ act: z.string(), from: z.string(), to: z.string() }),
  'queue.co-worker-named': bird.extend({ claimant: z.string().nullable(), coWorker: z.string().nullable() }),
  'queue.claim-ending': bird.extend({ person: z.string(), daysLeft: z.number().int() }),
  'queue.claim-ran-out': bird.extend({ person: z.string() }),
  'queue.plan-asked': plan.extend({ people: z.number().int(), handChanges: z.number().int() }),
  'queue.plan-begun': plan,
  'queue.plan-answered': plan.extend({ outcome: z.string(), birds: z.number().int() }),
  'queue.plan-stopped': plan,
  'queue.plan-failed': plan,
  'queue.plan-put-in-force': plan.extend({ given: z.number().int(), refused: z.array(z.string()) }),
  'queue.plan-set-aside': plan,
  'queue.settings-changed': z.object({ changes: changesShape, birds: z.number().int() }),
  'queue.skill-signed': z.object({
    person: z.string(),
    style: z.string(),
    sizeClass: z.string(),
    level: z.string().nullable(),
  }),
  'queue.priorities-computed': z.object({ birds: z.number().int() }),
});
