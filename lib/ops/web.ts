import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import path from 'node:path';
import { hintCompilation } from './compile-hints';
import { linkEqualChunks } from './equal-chunks';
import { fingerprint } from './fingerprint';
import { generatedDir } from './generate';
import { OperatorError } from './operator-error';
import { type OwnedProcess, spawnOwned } from './processes';
import { projectRoot } from './project';

const next = path.join(projectRoot, 'node_modules', 'next', 'dist', 'bin', 'next');

/** What a build is made from. */
const sources = [
  'app',
  'components',
  'lib',
  'prisma/schema',
  'public',
  'seed',
  'instrumentation.ts',
  'proxy.ts',
  'next.config.mjs',
  'package-lock.json',
  'tsconfig.json',
];
/** Changes here do not reach the pages: the client follows from prisma/schema. */
const notSources = ['lib/ops', generatedDir, 'public/docs'];

const serverChunks = ['.next/server/chunks', '.next/server/chunks/ssr'].map((dir) =>
  path.join(projectRoot, dir),
);
const browserChunks = path.join(projectRoot, '.next', 'static', 'chunks');
const stampFile = path.join(projectRoot, '.next', 'source-digest');

/** Digest of the sources as they are now, when the build is not of them; undefined when it is. */
export function findStaleness(): string | undefined {
  const digest = fingerprint(sources, notSources);
  const isBuilt = existsSync(path.join(projectRoot, '.next', 'BUILD_ID')) && existsSync(stampFile);
  return isBuilt && readFileSync(stampFile, 'utf8') === digest ? undefined : digest;
}

/** Starts a production build; `finished` fails with the build's own words when it fails. */
export async function startBuild(
  digest: string,
): Promise<{ process: OwnedProcess; finished: Promise<void> }> {
  const build = await spawnOwned(process.execPath, [next, 'build'], {
    cwd: projectRoot,
    env: webEnvironment({ NODE_ENV: 'production' }),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  build.child.stdout?.on('data', (chunk) => (output += chunk));
  build.child.stderr?.on('data', (chunk) => (output += chunk));
  const finished = build.exited.then((code) => {
    if (code !== 0) throw new OperatorError(`The pages could not be built:\n${output.trim()}`);
    for (const dir of serverChunks) linkEqualChunks(dir);
    hintCompilation(browserChunks);
    writeFileSync(stampFile, digest);
  });
  return { process: build, finished };
}

/** The C library would keep what each of eight pools for every processor once took. */
export const FEW_POOLS = { MALLOC_ARENA_MAX: '2' };
/**
 * Garbage is collected when the heap has grown by this part of what lives, instead of by several times as much on a
 * machine with much memory. No limit: what one large file needs it gets.
 */
export const HEAP_GROWTH = '--heap-growing-percent=20';

/** Starts the web server and returns when it answers. */
export async function startWeb(options: {
  isDev: boolean;
  host: string;
  port: number;
  env: Record<string, string>;
  /** Where the server's own lines go; a person at a terminal sees them. */
  output?: 'inherit' | 'ignore';
}): Promise<OwnedProcess> {
  const { isDev, host, port, env, output = 'inherit' } = options;
  const server = await spawnOwned(
    process.execPath,
    [HEAP_GROWTH, next, isDev ? 'dev' : 'start', '--hostname', host, '--port', String(port)],
    {
      cwd: projectRoot,
      env: webEnvironment({ ...FEW_POOLS, NODE_ENV: isDev ? 'development' : 'production', ...env }),
      stdio: ['ignore', output, output],
    },
  );
  let hasExited = false;
  void server.exited.then(() => {
    hasExited = true;
  });
  while (!(await answers(host, port))) {
    if (hasExited)
      throw new OperatorError('The web server ended before it answered; its lines above say why.');
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return server;
}

/** The flags that lib/ops itself runs under must not reach the web server. */
function webEnvironment(extra: Record<string, string>): NodeJS.ProcessEnv {
  const { NODE_OPTIONS: _, ...inherited } = process.env;
  return { ...inherited, NEXT_TELEMETRY_DISABLED: '1', ...extra } as NodeJS.ProcessEnv;
}

function answers(host: string, port: number): Promise<boolean> {
  const target = host === '0.0.0.0' || host === '::' ? 'localhost' : host;
  return new Promise((resolve) => {
    const socket = connect({ host: target, port });
    socket.once('connect', () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(false));
  });
}
