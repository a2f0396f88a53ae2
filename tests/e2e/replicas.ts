import { readFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import path from 'node:path';
import { type OwnedProcess, spawnOwned } from '../../lib/ops/processes';

const root = path.resolve(__dirname, '../..');
const HOST = '127.0.0.1';

/** What the processes of one installation share: the first one's database, data folder and secret. */
export function sharedSettings(): Record<string, string> {
  const { FURCULA_E2E_DATABASE_URL: databaseUrl = '', FURCULA_E2E_DATA: data = '' } = process.env;
  return {
    DATABASE_URL: databaseUrl,
    FURCULA_DATA: data,
    NEXTAUTH_SECRET: readFileSync(path.join(data, 'secret'), 'utf8').trim(),
    AUTH_TRUST_HOST: '1',
    FURCULA_DEMO: '1',
    LOG_LEVEL: 'error',
    NODE_ENV: 'production',
  };
}

/** Another process of the same build that serves the same installation. */
export type Replica = { port: number; process: OwnedProcess };

export async function startReplica(): Promise<Replica> {
  const port = await freePort();
  const next = path.join(root, 'node_modules/next/dist/bin/next');
  const owned = await start([next, 'start', '--hostname', HOST, '--port', String(port)], {
    PORT: String(port),
  });
  await untilReady(`http://${HOST}:${port}`, owned);
  return { port, process: owned };
}

/** Another worker, as `npm run worker` starts it. */
export const startWorker = (): Promise<OwnedProcess> =>
  start(['--conditions=react-server', '--import', 'tsx', 'lib/ops/worker-command.ts'], {});

function start(args: string[], env: Record<string, string>): Promise<OwnedProcess> {
  const { NODE_OPTIONS: _, ...inherited } = process.env;
  return spawnOwned(process.execPath, args, {
    cwd: root,
    env: { ...inherited, ...sharedSettings(), ...env } as NodeJS.ProcessEnv,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
}

/** Ends it at once, as a machine that loses its power. */
export async function kill({ process: owned }: Replica): Promise<void> {
  process.kill(-owned.pid, 'SIGKILL');
  await owned.exited;
}

async function untilReady(address: string, owned: OwnedProcess): Promise<void> {
  let hasEnded = false;
  void owned.exited.then(() => {
    hasEnded = true;
  });
  for (;;) {
    if (hasEnded) throw new Error('The process ended before it was ready; its lines above say why.');
    const isReady = await fetch(`${address}/api/ready`).then(
      ({ ok }) => ok,
      () => false,
    );
    if (isReady) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, HOST, resolve));
  const { port } = probe.address() as AddressInfo;
  await new Promise((resolve) => probe.close(resolve));
  return port;
}
