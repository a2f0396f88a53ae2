import type { CronItem, TaskList } from 'graphile-worker';
import { dropOldHandedInFiles } from '@/lib/platform/handed-in';
import { queueCron, queueTasks } from '@/lib/queue/jobs';
import { taxaTasks } from '@/lib/taxa/jobs';

const WEEK_MS = 7 * 24 * 3_600_000;

/** The background work of every stage, by the name commands enqueue it under. */
export const taskList: TaskList = {
  ...taxaTasks,
  ...queueTasks,
  'platform.drop-old-files': async () => {
    await dropOldHandedInFiles(new Date(Date.now() - WEEK_MS));
  },
};

/** Work that comes by the clock (UTC). */
export const cronItems: CronItem[] = [
  ...queueCron,
  { task: 'platform.drop-old-files', match: '40 3 * * *', identifier: 'drop-old-files' },
];
