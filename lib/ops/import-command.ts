import { PackageError, readPackage } from '@/lib/exchange/public';
import { runCommand } from './command';
import { connectTo } from './connect';
import { migrateDatabase } from './migrate';
import { OperatorError } from './operator-error';
import { withDatabase } from './with-database';

/** `npm run db:import -- file.zip`: loads a kept installation into an empty one, whole or not at all. */
runCommand(() =>
  withDatabase(async (databaseUrl) => {
    const fileName = process.argv[2];
    if (!fileName) throw new OperatorError('Give the package to load: npm run db:import -- kept.zip');
    await migrateDatabase(databaseUrl);
    const client = await connectTo(databaseUrl);
    try {
      const counts = await readPackage(client, fileName);
      const rows = Object.values(counts).reduce((sum, count) => sum + count, 0);
      console.log(`${rows} rows in ${Object.keys(counts).length} tables. Run \`npm run verify\` now.`);
    } catch (error) {
      throw error instanceof PackageError ? new OperatorError(error.message) : error;
    } finally {
      await client.end();
    }
  }),
);
