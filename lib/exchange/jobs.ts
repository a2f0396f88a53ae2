import type { CronItem, TaskList } from 'graphile-worker';
import { z } from 'zod';
import type { Actor } from '@/lib/platform/actor';
import { actorForJob } from '@/lib/platform/identity/acting-person';
import { checkRows, runRows, undoRows } from './service/import-work';
import { deliver, forgetOldDeliveries } from './webhooks/deliver';
import { DELIVER_TASK } from './webhooks/service';

const payloadShape = z.object({
  importId: z.uuid(),
  personId: z.uuid(),
  collectionId: z.uuid(),
  reason: z.string().nullable(),
});

/** The work is done as the person who asked for it, with the roles they have by then. */
const asPerson =
  (work: (job: { actor: Actor; importId: string; reason: string }) => Promise<void>) =>
  async (payload: unknown): Promise<void> => {
    const { importId, personId, collectionId, reason } = payloadShape.parse(payload);
    const actor = await actorForJob(personId, collectionId);
    if (actor === null) throw new Error('The person who began this import has no role here any more.');
    await work({ actor, importId, reason: reason ?? '' });
  };

const deliveryShape = z.object({ deliveryId: z.uuid() });

/** Background work of imports, and what is told outside. */
export const exchangeTasks: TaskList = {
  'exchange.check-import': asPerson(checkRows),
  'exchange.run-import': asPerson(runRows),
  'exchange.undo-import': asPerson(undoRows),
  'exchange.forget-deliveries': () => forgetOldDeliveries(),
  [DELIVER_TASK]: (payload) => deliver(deliveryShape.parse(payload).deliveryId),
};

export const exchangeCron: CronItem[] = [
  { task: 'exchange.forget-deliveries', match: '50 3 * * *', identifier: 'forget-deliveries' },
];
