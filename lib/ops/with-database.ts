import path from 'node:path';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { ensureDataDir, loadSettings } from './settings';

/** Runs work on the database of DATABASE_URL, or on the embedded one, which is started for it and stopped after. */
export async function withDatabase<T>(work: (databaseUrl: string) => Promise<T>): Promise<T> {
  const settings = loadSettings();
  if (settings.DATABASE_URL) return work(settings.DATABASE_URL);
  const server = await startEmbeddedPostgres(path.join(ensureDataDir(settings), 'postgres'));
  try {
    return await work(server.urlOf());
  } finally {
    await server.stop();
  }
}
