import { createHash } from 'node:crypto';
import { chmodSync, chownSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { OperatorError } from '../operator-error';
import { type Account, canExecute, canWrite, findUnprivilegedAccount, isRoot } from './account';
import { copyBinaries, findBinaries, type PostgresBinaries } from './binaries';

/** Where a database lives and what runs it. */
export interface PostgresHome {
  /** Holds the cluster, its password, its log and the note of who runs it. */
  readonly dir: string;
  readonly account: Account;
  readonly binaries: PostgresBinaries;
  /** A sentence for the person when the data is not where they would look for it. */
  readonly note?: string;
}

const systemDir = '/var/lib/furcula';

/**
 * Prepares the folder of a database. Where we are root, another account must run it: what that account cannot
 * reach (in a clone under /root, for instance) goes to /var/lib/furcula, programs and data each by itself. The
 * choice for data is written beside `dir` and kept, so that a clone that is moved finds its data again.
 */
export function prepareHome(dir: string): PostgresHome {
  const binaries = findBinaries();
  const choiceFile = `${dir}.location`;
  const chosen = existsSync(choiceFile) ? readFileSync(choiceFile, 'utf8').trim() : undefined;
  if (!isRoot()) {
    if (chosen) throw belongsToRoot(chosen);
    makeDir(dir);
    return { dir, account: {}, binaries };
  }
  const account = ownerOf(path.join(chosen ?? dir, 'cluster')) ?? findUnprivilegedAccount();
  const runnable = makeRunnable(binaries, account);
  if (!chosen) {
    makeDir(dir, account);
    if (canWrite(account, dir)) return { dir, account, binaries: runnable };
  }
  const elsewhereDir = chosen ?? elsewhere(dir);
  makeDir(elsewhereDir, account);
  if (!canWrite(account, elsewhereDir)) throw cannotReach(account, `${dir} nor ${elsewhereDir}`);
  writeFileSync(choiceFile, `${elsewhereDir}\n`);
  const note = `The database runs as ${nameOf(account)}, which cannot enter ${path.dirname(dir)}: its data is in ${elsewhereDir}.`;
  return { dir: elsewhereDir, account, binaries: runnable, note };
}

function makeRunnable(binaries: PostgresBinaries, account: Account): PostgresBinaries {
  const server = (where: PostgresBinaries) => path.join(where.dir, 'bin', 'postgres');
  if (canExecute(account, server(binaries))) return binaries;
  makeDir(systemDir);
  chmodSync(systemDir, 0o755);
  const copied = copyBinaries(binaries, systemDir);
  if (!canExecute(account, server(copied))) throw cannotReach(account, `${binaries.dir} nor ${copied.dir}`);
  return copied;
}

function elsewhere(dir: string): string {
  return path.join(systemDir, createHash('sha256').update(path.resolve(dir)).digest('hex').slice(0, 12));
}

function nameOf(account: Account): string {
  return account.name ?? String(account.uid);
}

function cannotReach(account: Account, places: string): OperatorError {
  return new OperatorError(
    `The account ${nameOf(account)} that runs the database can reach neither ${places}: give it the right, run Furcula as another user, or set DATABASE_URL.`,
  );
}

/** Whoever made an existing cluster must go on running it: PostgreSQL checks that its folder is its own. */
function ownerOf(clusterDir: string): Account | undefined {
  if (!existsSync(clusterDir)) return undefined;
  const { uid, gid } = statSync(clusterDir);
  return uid === 0 ? undefined : { uid, gid };
}

function makeDir(dir: string, account: Account = {}): void {
  try {
    mkdirSync(dir, { recursive: true, mode: 0o755 });
    if (account.uid !== undefined && account.gid !== undefined) chownSync(dir, account.uid, account.gid);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new OperatorError(
      `The data folder ${dir} cannot be made, the right to write is missing: ${reason}`,
    );
  }
}

function belongsToRoot(dir: string): OperatorError {
  return new OperatorError(
    `The data of this installation was made by root and is in ${dir}: start Furcula as root, or set DATABASE_URL.`,
  );
}
