import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { listCollections } from './repo/reminders';
import { remindOfLoans } from './service/reminders';

const REMIND_TASK = 'loans.remind';

export const loanTasks: TaskList = {
  [REMIND_TASK]: async () => {
    for (const { id } of await listCollections()) await remindOfLoans(id);
  },
};

export const loanCron: CronItem[] = [{ task: REMIND_TASK, match: '30 6 * * *' }];
