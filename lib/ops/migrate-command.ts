import path from 'node:path';
import { runCommand } from './command';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { migrateDatabase } from './migrate';
import { projectRoot } from './project';

/** `npm run db:migrate`: brings the database of DATABASE_URL, or the embedded one, up to this code. */
runCommand(async () => {
  const givenUrl = process.env.DATABASE_URL;
  const server = givenUrl
    ? undefined
    : await startEmbeddedPostgres(path.join(projectRoot, '.data', 'postgres'));
  try {
    const applied = await migrateDatabase(givenUrl ?? server?.urlOf() ?? '');
    console.log(applied.length === 0 ? 'The database is up to date.' : `Applied: ${applied.join(', ')}`);
  } finally {
    await server?.stop();
  }
});
