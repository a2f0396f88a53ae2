import type { JobHelpers } from 'graphile-worker';
import { noticeTasks } from '@/lib/notices/jobs';
import { readContent } from '@/lib/notices/kinds';
import { sayNotice } from '@/lib/notices/rules/sentences';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';

export type WaitingJob = { id: string; task: string; payload: unknown };

/** The waiting jobs of notices, in the order they came. */
export const waitingJobs = (): Promise<WaitingJob[]> =>
  db().$queryRaw<WaitingJob[]>`
    SELECT j.id::text, t.identifier AS task, j.payload FROM graphile_worker._private_jobs j
    JOIN graphile_worker._private_tasks t ON t.id = j.task_id WHERE t.identifier LIKE 'notices.%' ORDER BY j.id`;

const helpers = {
  addJob: (task: string, payload: unknown) =>
    db().$executeRaw`SELECT graphile_worker.add_job(${task}, ${JSON.stringify(payload)}::json)`,
} as unknown as JobHelpers;

export async function runJob({ task, payload }: Omit<WaitingJob, 'id'>): Promise<void> {
  await noticeTasks[task]?.(payload, helpers);
}

/** Does the waiting jobs of notices as a worker would, until none waits. `times`: how often each is delivered. */
export async function doNotices(times = 1): Promise<void> {
  for (let jobs = await waitingJobs(); jobs.length > 0; jobs = await waitingJobs()) {
    for (const job of jobs) {
      await db().$executeRaw`DELETE FROM graphile_worker._private_jobs WHERE id = ${job.id}::bigint`;
      for (let time = 0; time < times; time += 1) await runJob(job);
    }
  }
}

/** What a person was told, oldest first: kind and sentence. */
export async function toldTo(actor: Actor): Promise<{ kind: string; sentence: string }[]> {
  const rows = await db().notice.findMany({
    where: { personId: actor.personId ?? '' },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });
  return rows.map(({ kind, facts }) => ({ kind, sentence: sayNotice(readContent(kind, facts)) }));
}

export const kindsToldTo = async (actor: Actor) => (await toldTo(actor)).map(({ kind }) => kind);
