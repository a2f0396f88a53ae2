import path from 'node:path';
import { runCommand } from './command';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { migrateDatabase } from './migrate';
import { makeSetUpLink } from './set-up-link';
import { ensureDataDir, loadSettings } from './settings';

/**
 * `npm run db:migrate`: brings the database of DATABASE_URL, or the embedded one, up to this code. Where the
 * installation is not a demo and its address is known, it prints the first administrator's link as well.
 */
runCommand(async () => {
  const settings = loadSettings();
  const server = settings.DATABASE_URL
    ? undefined
    : await startEmbeddedPostgres(path.join(ensureDataDir(settings), 'postgres'));
  const databaseUrl = settings.DATABASE_URL ?? server?.urlOf() ?? '';
  try {
    const applied = await migrateDatabase(databaseUrl);
    console.log(applied.length === 0 ? 'The database is up to date.' : `Applied: ${applied.join(', ')}`);
    if (settings.FURCULA_DEMO || !settings.FURCULA_URL) return;
    const link = await makeSetUpLink(databaseUrl, settings.FURCULA_URL.replace(/\/$/, ''));
    if (link) console.log(`Make the first administrator, once and within a day, at ${link}`);
  } finally {
    await server?.stop();
  }
});
