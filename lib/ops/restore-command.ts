import { closeDb } from '@/lib/platform/db';
import { restoreBackup } from './backup/restore';
import { runCommand } from './command';
import { OperatorError } from './operator-error';
import { reportFindings } from './verify';
import { withDatabase } from './with-database';

/** `npm run restore -- folder`: a backup into an empty database and file store, whole or not at all, then proved. */
runCommand(() =>
  withDatabase(async (databaseUrl) => {
    const folder = process.argv[2];
    if (!folder)
      throw new OperatorError('Give the folder of a backup: npm run restore -- /mnt/backups/today');
    process.env.DATABASE_URL = databaseUrl;
    const { manifest, findings } = await restoreBackup(databaseUrl, folder);
    await closeDb();
    const tables = Object.values(manifest.tables);
    const rows = tables.reduce((sum, table) => sum + table.rows, 0);
    console.log(
      `${rows} rows in ${tables.length} tables and ${manifest.jobs} waiting jobs, as of ${manifest.madeAt}.`,
    );
    if (reportFindings(findings) > 0) process.exitCode = 1;
  }),
);
