import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { listCollectionIds } from './repo/permits';
import { remindOfPermits } from './service/reminders';

const REMIND_TASK = 'permits.remind';

export const permitTasks: TaskList = {
  [REMIND_TASK]: async () => {
    for (const { id } of await listCollectionIds()) await remindOfPermits(id);
  },
};

export const permitCron: CronItem[] = [{ task: REMIND_TASK, match: '40 6 * * *' }];
