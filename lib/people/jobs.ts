import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { forgetOldSessions } from '@/lib/platform/identity/sessions';

const FORGET_TASK = 'people.forget-sessions';

/** Background work of accounts. */
export const peopleTasks: TaskList = {
  [FORGET_TASK]: async () => {
    await forgetOldSessions();
  },
};

export const peopleCron: CronItem[] = [
  { task: FORGET_TASK, match: '45 3 * * *', identifier: 'forget-sessions' },
];
