import { Logger, runMigrations } from 'graphile-worker';
import { connectTo } from './connect';
import { listMigrations, migrationsDir } from './migrations-folder';
import { OperatorError } from './operator-error';
import { type SchemaEngine, withSchemaEngine } from './schema-engine';

const noFilters = { externalTables: [], externalEnums: [] };

const quiet = new Logger(() => () => undefined);

/** Any number that nothing else in the database uses as an advisory lock. */
const migrationLockKey = 7_418_530_021;

/**
 * Brings a database up to the migrations of this code and returns the names of those it applied. Replicas that
 * start together wait for each other. A database that has migrations this code does not know is refused: it
 * belongs to a newer version.
 */
export async function migrateDatabase(databaseUrl: string, dir: string = migrationsDir): Promise<string[]> {
  const lockClient = await connectTo(databaseUrl);
  try {
    await lockClient.query('select pg_advisory_lock($1)', [migrationLockKey]);
    const applied = await withSchemaEngine(databaseUrl, (engine) => applyMigrations(engine, dir));
    // The job queue's own tables: commands write jobs into them whether or not a worker runs.
    await runMigrations({ connectionString: databaseUrl, logger: quiet });
    return applied;
  } finally {
    await lockClient.end();
  }
}

async function applyMigrations(engine: SchemaEngine, dir: string): Promise<string[]> {
  const migrationsList = listMigrations(dir);
  const state = await engine.diagnoseMigrationHistory({
    migrationsList,
    optInToShadowDatabase: false,
    filters: noFilters,
  });
  if (state.history && state.history.diagnostic !== 'databaseIsBehind') {
    throw new OperatorError(
      `The database is newer than this code: it has ${quoteList(state.history.unpersistedMigrationNames)}, which this version does not know. Install the newer version of Furcula.`,
    );
  }
  if (state.editedMigrationNames.length > 0) {
    throw new OperatorError(
      `${quoteList(state.editedMigrationNames)} was changed after this database had taken it: put the file back as it was and add a new migration.`,
    );
  }
  // A script runs as one transaction, so one that was cut short has changed nothing and can be tried again.
  for (const migrationName of state.failedMigrationNames) {
    await engine.markMigrationRolledBack({ migrationName });
  }
  try {
    const { appliedMigrationNames } = await engine.applyMigrations({ migrationsList, filters: noFilters });
    return appliedMigrationNames;
  } catch (error) {
    throw new OperatorError(`A migration of the database failed and was undone: ${messageOf(error)}`);
  }
}

function messageOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.replace(/\s+/g, ' ').trim();
}

function quoteList(names: readonly string[]): string {
  return names.map((name) => `"${name}"`).join(', ');
}
