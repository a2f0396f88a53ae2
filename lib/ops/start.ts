import path from 'node:path';
import type { Settings } from '@/lib/platform/env';
import { timeStage } from './command';
import { connectTo } from './connect';
import { listDemoSignIns, loadDemo, prepareDatabase } from './database-content';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { generateClient } from './generate';
import { Lifetime } from './lifetime';
import { OperatorError } from './operator-error';
import { makeSetUpLink } from './set-up-link';
import { claimPort, ensureDataDir, ensureSecret, loadSettings, publicAddress } from './settings';
import { findStaleness, startBuild, startWeb } from './web';
import { startWorker } from './worker';

const lifetime = new Lifetime();
const isDev = process.argv.includes('--dev');

async function main(): Promise<void> {
  const settings = loadSettings();
  const dataDir = ensureDataDir(settings);
  const secret = ensureSecret(settings, dataDir);
  const port = await claimPort(settings);
  const address = publicAddress(settings, port);
  const databaseUrl = await timeStage('Database', () => openDatabase(settings, dataDir));
  await timeStage('Migrations', () => prepareDatabase(databaseUrl));
  await timeStage('Database client', () => generateClient());
  const env = webSettings(settings, { databaseUrl, secret, port });
  // Background work and the scenario use the same settings as the pages.
  Object.assign(process.env, env);
  await Promise.all([
    settings.FURCULA_DEMO ? timeStage('Demo data', () => loadDemo(databaseUrl)) : undefined,
    isDev ? undefined : timeStage('Pages', buildIfStale),
  ]);
  await timeStage('Web server', () => serve(settings, port, env));
  const worker = await startWorker(databaseUrl);
  await lifetime.onEnd(() => worker?.stop());
  lifetime.isReady = true;
  await greet(settings, databaseUrl, address);
  // The browser tests start Furcula as it is and wait for this.
  process.send?.({ address, databaseUrl });
}

async function openDatabase(settings: Settings, dataDir: string): Promise<string> {
  if (settings.DATABASE_URL) {
    const client = await connectTo(settings.DATABASE_URL);
    await client.end();
    return settings.DATABASE_URL;
  }
  const server = await startEmbeddedPostgres(path.join(dataDir, 'postgres'));
  await lifetime.onEnd(() => server.stop());
  watch(
    server.exited,
    `The database ended unexpectedly; its log is in ${path.join(server.homeDir, 'postgres.log')}`,
  );
  if (server.note) console.log(server.note);
  return server.urlOf();
}

async function buildIfStale(): Promise<void> {
  const digest = findStaleness();
  if (digest === undefined) return;
  const build = await startBuild(digest);
  await lifetime.onEnd(() => build.process.stop(3000));
  await build.finished;
}

async function serve(settings: Settings, port: number, env: Record<string, string>): Promise<void> {
  const server = await startWeb({ isDev, host: settings.HOST, port, env });
  await lifetime.onEnd(() => server.stop());
  watch(server.exited, 'The web server ended unexpectedly; its lines above say why.');
}

function watch(exited: Promise<unknown>, sentence: string): void {
  void exited.then(() => {
    if (!lifetime.isEnding) void lifetime.fail(new OperatorError(sentence));
  });
}

function webSettings(
  settings: Settings,
  found: { databaseUrl: string; secret: string; port: number },
): Record<string, string> {
  const url = settings.NEXTAUTH_URL ?? settings.FURCULA_URL;
  return {
    DATABASE_URL: found.databaseUrl,
    NEXTAUTH_SECRET: found.secret,
    PORT: String(found.port),
    FURCULA_DEMO: settings.FURCULA_DEMO ? '1' : '0',
    // Without a fixed address the one in the browser counts, be it localhost or 127.0.0.1.
    ...(url ? { NEXTAUTH_URL: url } : { AUTH_TRUST_HOST: '1' }),
  };
}

async function greet(settings: Settings, databaseUrl: string, address: string): Promise<void> {
  console.log(`\nFurcula is at ${address}`);
  if (!settings.FURCULA_DEMO) {
    const link = await makeSetUpLink(databaseUrl, address);
    if (link) console.log(`Make the first administrator, once and within a day, at ${link}`);
  } else {
    const signIns = await listDemoSignIns();
    if (signIns.length > 0) console.log('This is a demo with invented data. Sign in as:');
    for (const { role, email, password } of signIns)
      console.log(`  ${role.padEnd(16)} ${email.padEnd(36)} ${password}`);
  }
  console.log('Ctrl-C stops it; all data is kept.');
}

main().catch((error) => lifetime.fail(error));
