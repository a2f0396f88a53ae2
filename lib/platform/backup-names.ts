import { existsSync, readdirSync } from 'node:fs';

/** 'furcula-20261125T013000Z': the order of names is the order of time. */
const NAME = /^furcula-(\d{4})(\d{2})(\d{2})T(\d{2})(\d{2})(\d{2})Z$/;

/** Name of the folder of a backup made at an instant. */
export const nameOfBackup = (at: Date): string =>
  `furcula-${at.toISOString().replace(/[-:]/g, '').replace(/\.\d+/, '')}`;

const backupsAmong = (names: readonly string[]): string[] => names.filter((name) => NAME.test(name)).sort();

/** Of the names in a folder, the backups beyond the newest `keep`; whatever else lies there is left alone. */
export function chooseOld(names: readonly string[], keep: number): string[] {
  const backups = backupsAmong(names);
  return backups.slice(0, Math.max(0, backups.length - keep));
}

/** When the newest backup of a folder was made, or null: for those who watch an installation. */
export function findNewestBackup(dir: string): Date | null {
  const newest = existsSync(dir) ? backupsAmong(readdirSync(dir)).at(-1) : undefined;
  if (newest === undefined) return null;
  return new Date(newest.replace(NAME, '$1-$2-$3T$4:$5:$6Z'));
}
