import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { queueCron, queueTasks } from './queue/jobs';

/** The background work of all stages; what a task does stands in its stage's jobs.ts. */
export const taskList: TaskList = { ...queueTasks };

/** What is done by the clock (UTC). */
export const cronItems: CronItem[] = [...queueCron];
