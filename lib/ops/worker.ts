import { existsSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { CronItem } from 'graphile-worker';
import { Logger, parseCronItems, type Runner, run, type TaskList } from 'graphile-worker';
import { projectRoot } from './project';

interface Jobs {
  taskList: TaskList;
  cronItems?: CronItem[];
}

/**
 * Starts doing the background work that lib/jobs.ts lists, or returns undefined where there is none. The queue
 * has a schema of its own in the database, which this brings up to date. Any number of workers may run.
 */
export async function startWorker(databaseUrl: string, concurrency = 2): Promise<Runner | undefined> {
  const file = path.join(projectRoot, 'lib', 'jobs.ts');
  if (!existsSync(file)) return undefined;
  const { taskList, cronItems } = (await import(pathToFileURL(file).href)) as Jobs;
  return run({
    connectionString: databaseUrl,
    concurrency,
    // Stopping is decided in one place, see Lifetime.
    noHandleSignals: true,
    taskList,
    parsedCronItems: parseCronItems(cronItems ?? []),
    logger: new Logger(() => (level, message) => {
      if (level === 'error' || level === 'warning') console.error(`jobs: ${message}`);
    }),
  });
}
