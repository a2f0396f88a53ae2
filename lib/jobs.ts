import type { TaskList } from 'graphile-worker';
import { salvageJobs } from './salvage/jobs';

/** All background work of the platform, by the name under which commands enqueue it. */
export const taskList: TaskList = { ...salvageJobs };
