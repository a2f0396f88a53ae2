import path from 'node:path';
import type { TestProject } from 'vitest/node';
import { startEmbeddedPostgres } from '@/lib/ops/embedded-postgres/server';
import { migrateDatabase } from '@/lib/ops/migrate';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Address of the test server's maintenance database. */
    adminUrl: string;
    /** Database with all migrations and no rows, of which every test file gets a copy. */
    templateName: string;
  }
}

/** Starts a throw-away server for the whole run and migrates the template once. */
export default async function startTestServer(project: TestProject): Promise<() => Promise<void>> {
  const dir = makeScratchDir('test');
  const server = await startEmbeddedPostgres(path.join(dir, 'postgres'), { disposable: true });
  await migrateDatabase(server.urlOf());
  project.provide('adminUrl', server.urlOf('postgres'));
  project.provide('templateName', 'furcula');
  return async () => {
    await server.stop();
    removeScratchDir(dir);
  };
}
