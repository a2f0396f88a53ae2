import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import type { CronItem, TaskList } from 'graphile-worker';
import { settings } from '@/lib/platform/env';
import { log } from '@/lib/platform/log';
import { makeBackup } from './write';

/** 'furcula-20261125T013000Z': the order of names is the order of time. */
const NAME = /^furcula-\d{8}T\d{6}Z$/;

/** Name of the folder of a backup made at an instant. */
export const nameOfBackup = (at: Date): string =>
  `furcula-${at.toISOString().replace(/[-:]/g, '').replace(/\.\d+/, '')}`;

/** Of the names in a folder, the backups beyond the newest `keep`; whatever else lies there is left alone. */
export function chooseOld(names: readonly string[], keep: number): string[] {
  const backups = names.filter((name) => NAME.test(name)).sort();
  return backups.slice(0, Math.max(0, backups.length - keep));
}

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

/** The newest backup's instant, or null: for those who watch an installation. */
export function findNewestBackup(dir: string): Date | null {
  const newest = existsSync(dir)
    ? readdirSync(dir)
        .filter((name) => NAME.test(name))
        .sort()
        .at(-1)
    : undefined;
  const parts = /(\d{4})(\d{2})(\d{2})T(\d{2})(\d{2})(\d{2})Z$/.exec(newest ?? '');
  if (parts === null) return null;
  const [, year, month, day, hour, minute, second] = parts;
  return new Date(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`);
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
