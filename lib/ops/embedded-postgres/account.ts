import { execFileSync, spawnSync } from 'node:child_process';
import { OperatorError } from '../operator-error';

/** The account a child runs under; empty means "as ourselves". */
export interface Account {
  readonly name?: string;
  readonly uid?: number;
  readonly gid?: number;
}

const ownAccount = 'furcula';

/** Whether this process has all rights, which PostgreSQL refuses to run with. */
export function isRoot(): boolean {
  return process.getuid?.() === 0;
}

/**
 * The unprivileged account that runs the database when we are root: `furcula` or `postgres` where the system
 * has one, otherwise a new system account `furcula`. Nothing is made or changed for anybody but root.
 */
export function findUnprivilegedAccount(): Account {
  const existing = lookUpAccount(ownAccount) ?? lookUpAccount('postgres');
  if (existing) return existing;
  spawnSync('useradd', ['--system', '--no-create-home', '--shell', '/usr/sbin/nologin', ownAccount], {
    stdio: 'ignore',
  });
  const made = lookUpAccount(ownAccount);
  if (made) return made;
  throw new OperatorError(
    'PostgreSQL does not run as root and no account "furcula" or "postgres" could be found or made: add one (useradd --system furcula), run Furcula as another user, or set DATABASE_URL.',
  );
}

function lookUpAccount(name: string): Account | undefined {
  try {
    const read = (flag: string) =>
      Number(execFileSync('id', [flag, name], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }));
    const uid = read('-u');
    const gid = read('-g');
    return uid > 0 ? { name, uid, gid } : undefined;
  } catch {
    return undefined;
  }
}

/** Whether the account can make files in a folder. */
export function canWrite(account: Account, dir: string): boolean {
  return asks(account, 'test -w "$1" && test -x "$1"', dir);
}

/** Whether the account can run a program. */
export function canExecute(account: Account, program: string): boolean {
  return asks(account, 'test -x "$1"', program);
}

/** A shell under that account asks, so that modes, owners and access lists of every folder on the way count. */
function asks(account: Account, question: string, file: string): boolean {
  const check = spawnSync('/bin/sh', ['-c', question, 'sh', file], {
    ...credentials(account),
    cwd: '/',
    stdio: 'ignore',
  });
  return check.status === 0;
}

/** The spawn options that make a child run under the account. */
export function credentials(account: Account): { uid?: number; gid?: number } {
  return account.uid === undefined ? {} : { uid: account.uid, gid: account.gid };
}
