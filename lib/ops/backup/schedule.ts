import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import type { CronItem, TaskList } from 'graphile-worker';
import { chooseOld, nameOfBackup } from '@/lib/platform/backup-names';
import { settings } from '@/lib/platform/env';
import { log } from '@/lib/platform/log';
import { makeBackup } from './write';

/** Makes a backup in BACKUP_DIR and removes the oldest beyond BACKUP_KEEP, in that order. Returns its folder. */
export async function makeScheduledBackup(
  databaseUrl: string,
  { dir, keep, at }: { dir: string; keep: number; at: Date },
): Promise<string> {
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  const folder = path.join(dir, nameOfBackup(at));
  const { damaged } = await makeBackup(databaseUrl, folder);
  for (const name of damaged) log().error({ name }, 'a stored file is missing or changed');
  for (const name of chooseOld(readdirSync(dir), keep)) rmSync(path.join(dir, name), { recursive: true });
  return folder;
}

const TASK = 'ops.backup';

export const backupTasks: TaskList = {
  [TASK]: async () => {
    const { BACKUP_DIR, BACKUP_KEEP, DATABASE_URL } = settings();
    if (BACKUP_DIR === undefined || DATABASE_URL === undefined) return;
    await makeScheduledBackup(DATABASE_URL, { dir: BACKUP_DIR, keep: BACKUP_KEEP, at: new Date() });
  },
};

export const backupCron: CronItem[] = [{ task: TASK, match: '30 1 * * *', identifier: 'backup' }];
