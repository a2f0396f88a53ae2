import type { TaskList } from 'graphile-worker';
import { z } from 'zod';
import { systemActor } from '@/lib/platform/actor';
import { withTx } from '@/lib/platform/tx';
import { loadStarterChecklist, readHandedInChecklist } from './service/reading';

const reading = z.object({
  checklistId: z.uuid(),
  actor: z.object({ personId: z.uuid(), name: z.string(), collectionId: z.uuid() }),
});
const starter = z.object({ collectionId: z.uuid() });

/** Background work of the checklists. */
export const taxaTasks: TaskList = {
  'taxa.read-checklist': async (payload) => {
    const { checklistId, actor } = reading.parse(payload);
    await readHandedInChecklist({ actor: { ...actor, roles: [] } }, checklistId);
  },
  'taxa.load-starter': async (payload) => {
    const { collectionId } = starter.parse(payload);
    await withTx({ actor: systemActor(collectionId) }, loadStarterChecklist);
  },
};
