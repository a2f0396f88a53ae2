import type { CronItem, TaskList } from 'graphile-worker';
import { exchangeCron, exchangeTasks } from '@/lib/exchange/jobs';
import { loanCron, loanTasks } from '@/lib/loans/jobs';
import { noticeCron, noticeTasks } from '@/lib/notices/jobs';
import { backupCron, backupTasks } from '@/lib/ops/backup/schedule';
import { peopleCron, peopleTasks } from '@/lib/people/jobs';
import { permitCron, permitTasks } from '@/lib/permits/jobs';
import { dropOldHandedInFiles } from '@/lib/platform/handed-in';
import { forgetOldAnswers } from '@/lib/platform/kept-answers';
import { queueCron, queueTasks } from '@/lib/queue/jobs';
import { salvageCron, salvageTasks } from '@/lib/salvage/jobs';
import { taxaTasks } from '@/lib/taxa/jobs';

const WEEK_MS = 7 * 24 * 3_600_000;

/** The background work of every stage, by the name under which commands enqueue it. */
export const taskList: TaskList = {
  ...taxaTasks,
  ...permitTasks,
  ...peopleTasks,
  ...salvageTasks,
  ...queueTasks,
  ...loanTasks,
  ...exchangeTasks,
  ...backupTasks,
  ...noticeTasks,
  'platform.drop-old-files': async () => {
    await dropOldHandedInFiles(new Date(Date.now() - WEEK_MS));
  },
  'platform.forget-answers': () => forgetOldAnswers(),
};

/** Work that comes by the clock (UTC). */
export const cronItems: CronItem[] = [
  ...peopleCron,
  ...permitCron,
  ...salvageCron,
  ...queueCron,
  ...loanCron,
  ...exchangeCron,
  ...backupCron,
  ...noticeCron,
  { task: 'platform.drop-old-files', match: '40 3 * * *', identifier: 'drop-old-files' },
  { task: 'platform.forget-answers', match: '55 3 * * *', identifier: 'forget-answers' },
];
