import path from 'node:path';
import { nameOfBackup } from '@/lib/platform/backup-names';
import { makeBackup } from './backup/write';
import { runCommand } from './command';
import { OperatorError } from './operator-error';
import { loadSettings } from './settings';
import { withDatabase } from './with-database';

/** `npm run backup -- folder`: everything but the secrets into a new folder; without one, into BACKUP_DIR under the date. */
runCommand(async () => {
  const { BACKUP_DIR } = loadSettings();
  const folder = process.argv[2] ?? (BACKUP_DIR && path.join(BACKUP_DIR, nameOfBackup(new Date())));
  if (!folder)
    throw new OperatorError('Give a new folder, for instance: npm run backup -- /mnt/backups/today');
  await withDatabase(async (databaseUrl) => {
    const { tables, files, jobs, damaged } = await makeBackup(databaseUrl, folder);
    const rows = Object.values(tables).reduce((sum, table) => sum + table.rows, 0);
    const bytes = files.reduce((sum, file) => sum + file.bytes, 0);
    console.log(
      `${path.resolve(folder)}: ${rows} rows in ${Object.keys(tables).length} tables, ${jobs} waiting jobs, ${files.length} files, ${(bytes / 1e6).toFixed(1)} MB.`,
    );
    console.log('It holds finders’ names and password digests, and no secrets: keep it like the database.');
    if (damaged.length === 0) return;
    for (const name of damaged) console.log(`missing or changed in the file store: ${name}`);
    throw new OperatorError(`${damaged.length} stored files are damaged; everything else is in the backup.`);
  });
});
