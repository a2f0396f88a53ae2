import { type ChildProcess, fork } from 'node:child_process';
import path from 'node:path';
import type { FullConfig } from '@playwright/test';
import { makeScratchDir, removeScratchDir } from '../../lib/ops/scratch-dir';

/**
 * Starts Furcula the way `npm start` does, with the demo scenario in a throw-away folder and on a free port,
 * and tells the journeys its address. It ends when this process ends, however that comes.
 */
export default async function startFurcula(config: FullConfig): Promise<() => Promise<void>> {
  const root = path.resolve(path.dirname(config.configFile ?? ''), '../..');
  const dataDir = makeScratchDir('e2e');
  const { DATABASE_URL: _, NEXTAUTH_URL: __, FURCULA_URL: ___, ...env } = process.env;
  const child = fork(path.join(root, 'lib/ops/start.ts'), {
    cwd: root,
    execArgv: ['--conditions=react-server', '--import', 'tsx'],
    env: {
      ...env,
      FURCULA_DATA: dataDir,
      FURCULA_DEMO: '1',
      PORT: '0',
      HOST: '127.0.0.1',
      LOG_LEVEL: 'error',
    },
  });
  const ready = await waitUntilReady(child);
  process.env.FURCULA_E2E_URL = ready.address;
  process.env.FURCULA_E2E_DATABASE_URL = ready.databaseUrl;
  process.env.FURCULA_E2E_DATA = dataDir;
  return async () => {
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGTERM');
    await ended;
    removeScratchDir(dataDir);
  };
}

function waitUntilReady(child: ChildProcess): Promise<{ address: string; databaseUrl: string }> {
  return new Promise((resolve, reject) => {
    child.once('message', (message) => resolve(message as { address: string; databaseUrl: string }));
    child.once('exit', () =>
      reject(new Error('Furcula ended before it was ready; its lines above say why.')),
    );
  });
}
