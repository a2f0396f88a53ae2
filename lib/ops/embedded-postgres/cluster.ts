import { execFileSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chmodSync, chownSync, existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { OperatorError } from '../operator-error';
import { commandLine, isAlive, waitUntil } from '../processes';
import { credentials } from './account';
import type { PostgresHome } from './home';

/** The administrator of the embedded server. */
export const superuser = 'furcula';

/** The folder with the data itself. */
export function clusterDir(home: PostgresHome): string {
  return path.join(home.dir, 'cluster');
}

/** The password of the embedded server: random, made once, in a file that only its account can read. */
export function readPassword(home: PostgresHome): string {
  return readFileSync(passwordFile(home), 'utf8').trim();
}

function passwordFile(home: PostgresHome): string {
  return path.join(home.dir, 'password');
}

/**
 * Makes an empty cluster unless there is one. It is made under another name and renamed when it is whole, so
 * that being killed half-way leaves nothing that looks like data. Text sorts by code point the same on every
 * machine (the server's built-in C.UTF-8), because a system's own locales differ and change under an index.
 */
export function ensureCluster(home: PostgresHome, isDisposable: boolean): void {
  const dir = clusterDir(home);
  if (existsSync(path.join(dir, 'PG_VERSION'))) {
    checkMajorVersion(home);
    return;
  }
  const unfinished = path.join(home.dir, 'cluster.unfinished');
  rmSync(unfinished, { recursive: true, force: true });
  writePassword(home);
  const args = [
    `--pgdata=${unfinished}`,
    `--username=${superuser}`,
    `--pwfile=${passwordFile(home)}`,
    '--auth=scram-sha-256',
    '--encoding=UTF8',
    '--locale=C',
    '--locale-provider=builtin',
    '--builtin-locale=C.UTF-8',
    ...(isDisposable ? ['--no-sync'] : []),
  ];
  try {
    execFileSync(path.join(home.binaries.dir, 'bin', 'initdb'), args, {
      ...credentials(home.account),
      cwd: '/',
      env: { ...process.env, LC_ALL: 'C' },
      stdio: ['ignore', 'pipe', 'pipe'],
      encoding: 'utf8',
    });
  } catch (error) {
    const { stderr, message } = error as Error & { stderr?: string };
    throw new OperatorError(`The database could not be made in ${home.dir}: ${(stderr || message).trim()}`);
  }
  renameSync(unfinished, dir);
}

function writePassword(home: PostgresHome): void {
  const file = passwordFile(home);
  writeFileSync(file, `${randomBytes(24).toString('base64url')}\n`, { mode: 0o600 });
  chmodSync(file, 0o600);
  const { uid, gid } = home.account;
  if (uid !== undefined && gid !== undefined) chownSync(file, uid, gid);
}

function checkMajorVersion(home: PostgresHome): void {
  const found = readFileSync(path.join(clusterDir(home), 'PG_VERSION'), 'utf8').trim();
  if (found === home.binaries.majorVersion) return;
  throw new OperatorError(
    `The data in ${home.dir} belongs to PostgreSQL ${found} and this version of Furcula brings ${home.binaries.majorVersion}: restore a backup into a new folder, or set DATABASE_URL to a PostgreSQL ${found}.`,
  );
}

/**
 * Brings a server that an earlier, killed start left behind to an orderly end; what it had committed is kept.
 * A note of a process that has gone, or whose number now belongs to something else, is taken away, because
 * PostgreSQL would refuse to start over it.
 */
export async function stopLeftOver(home: PostgresHome): Promise<void> {
  const pidFile = path.join(clusterDir(home), 'postmaster.pid');
  if (!existsSync(pidFile)) return;
  const pid = Number(readFileSync(pidFile, 'utf8').split('\n')[0]);
  const isOurs = Number.isInteger(pid) && pid > 0 && commandLine(pid)?.includes(clusterDir(home));
  if (isOurs) {
    for (const signal of ['SIGINT', 'SIGQUIT', 'SIGKILL'] as const) {
      if (isAlive(pid)) process.kill(pid, signal);
      if (await waitUntil(() => !isAlive(pid), 10_000)) break;
    }
  }
  rmSync(pidFile, { force: true });
}
