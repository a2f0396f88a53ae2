import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { z } from 'zod';
import { systemActor } from '@/lib/platform/actor';
import { withTx } from '@/lib/platform/tx';
import { expireClaims } from './claim-expiry';
import { queueEvents } from './events';
import { solvePlan } from './plan-solve';
import { SOLVE_TASK } from './plans';
import { refreshPriorities } from './priorities';
import { findAllQueued, findCollection, listCollectionIds } from './repo/birds';
import { readQueueSettings } from './settings';

const solvePayload = z.object({ planId: z.uuid(), collectionId: z.uuid() });

const EXPIRE_TASK = 'queue.expire-claims';
const RANK_TASK = 'queue.rank';

/** Freezer days grow and deadlines come nearer: each night every queue is ranked anew. */
export async function rankQueue(collectionId: string): Promise<number> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const settings = readQueueSettings((await findCollection(work.db, collectionId)).settings);
    const birds = await findAllQueued(work.db, collectionId);
    if (birds.length === 0) return 0;
    await refreshPriorities(work, birds, settings);
    work.audit(
      queueEvents.make(
        'queue.priorities-computed',
        { subjectType: 'collection', subjectId: collectionId },
        { birds: birds.length },
      ),
    );
    return birds.length;
  });
}

async function forEachCollection(act: (collectionId: string) => Promise<unknown>): Promise<void> {
  for (const { id } of await listCollectionIds()) await act(id);
}

export const queueTasks: TaskList = {
  [SOLVE_TASK]: async (payload) => {
    const { planId, collectionId } = solvePayload.parse(payload);
    await solvePlan(planId, collectionId);
  },
  [EXPIRE_TASK]: () => forEachCollection(expireClaims),
  [RANK_TASK]: () => forEachCollection(rankQueue),
};

export const queueCron: CronItem[] = [
  { task: EXPIRE_TASK, match: '7 * * * *' },
  { task: RANK_TASK, match: '20 2 * * *' },
];
