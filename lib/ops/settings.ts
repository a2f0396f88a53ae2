import { randomBytes } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import path from 'node:path';
import { parseSettings, type Settings } from '@/lib/platform/env';
import { findFreePort } from './embedded-postgres/server';
import { OperatorError } from './operator-error';
import { projectRoot } from './project';

/** The settings of this installation; a wrong one is named in one sentence. */
export function loadSettings(): Settings {
  try {
    return parseSettings(process.env);
  } catch (error) {
    throw new OperatorError(error instanceof Error ? error.message : String(error));
  }
}

/** The folder for everything an installation keeps, absolute; made when it is missing. */
export function ensureDataDir(settings: Settings): string {
  const dir = path.resolve(projectRoot, settings.FURCULA_DATA);
  try {
    mkdirSync(dir, { recursive: true });
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new OperatorError(
      `The data folder ${dir} cannot be made, the right to write is missing: ${reason}`,
    );
  }
  return dir;
}

/** The secret that signs sessions: the setting, or one made once and kept in a file only its owner can read. */
export function ensureSecret(settings: Settings, dataDir: string): string {
  if (settings.NEXTAUTH_SECRET) return settings.NEXTAUTH_SECRET;
  const file = path.join(dataDir, 'secret');
  try {
    if (!existsSync(file)) writeFileSync(file, `${randomBytes(32).toString('base64url')}\n`, { mode: 0o600 });
    chmodSync(file, 0o600);
    return readFileSync(file, 'utf8').trim();
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new OperatorError(`The secret in ${file} cannot be read or written: ${reason}`);
  }
}

/**
 * The port to serve on: the setting, or a free one for 0. An earlier start that is just stopping gets three
 * seconds to let go of it.
 */
export async function claimPort(settings: Settings): Promise<number> {
  const { HOST: host, PORT: port } = settings;
  if (port === 0) return findFreePort();
  const deadline = Date.now() + 3000;
  for (;;) {
    const problem = await tryPort(host, port);
    if (problem === undefined) return port;
    if (problem === 'EACCES')
      throw new OperatorError(
        `The right to serve on port ${port} is missing: choose one above 1023, for instance PORT=3000.`,
      );
    if (problem !== 'EADDRINUSE')
      throw new OperatorError(
        `Cannot serve on ${host}:${port} (${problem}): HOST must be an address of this machine.`,
      );
    if (Date.now() > deadline) {
      throw new OperatorError(
        `Port ${port} of ${host} is in use by another program: stop that one, or choose another port, for instance PORT=${port + 1}.`,
      );
    }
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

function tryPort(host: string, port: number): Promise<string | undefined> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => resolve(undefined)));
  });
}

/** The address a person opens. */
export function publicAddress(settings: Settings, port: number): string {
  const given = settings.FURCULA_URL ?? settings.NEXTAUTH_URL;
  if (given) return given.replace(/\/$/, '');
  const isEverywhere = settings.HOST === '0.0.0.0' || settings.HOST === '::';
  const host = isEverywhere
    ? 'localhost'
    : settings.HOST.includes(':')
      ? `[${settings.HOST}]`
      : settings.HOST;
  return `http://${host}:${port}`;
}
