import { createHash } from 'node:crypto';
import { chmodSync, chownSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { OperatorError } from '../operator-error';
import { type Account, canReach, findUnprivilegedAccount, isRoot } from './account';
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
 * Prepares the folder of a database: `dir`, or, where we are root and the account that must run the database
 * cannot get there (a clone under /root, for instance), a folder under /var/lib/furcula that holds data and
 * programs. The choice is written beside `dir` and kept, so that a folder that is moved finds its data again.
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
  if (!chosen) {
    const account = ownerOf(path.join(dir, 'cluster')) ?? findUnprivilegedAccount();
    makeDir(dir, account);
    if (canReach(account, dir, path.join(binaries.dir, 'bin', 'postgres'))) return { dir, account, binaries };
  }
  return prepareElsewhere(dir, chosen ?? elsewhere(dir), choiceFile, binaries);
}

function prepareElsewhere(
  dir: string,
  elsewhereDir: string,
  choiceFile: string,
  binaries: PostgresBinaries,
): PostgresHome {
  const account = ownerOf(path.join(elsewhereDir, 'cluster')) ?? findUnprivilegedAccount();
  makeDir(systemDir);
  chmodSync(systemDir, 0o755);
  makeDir(elsewhereDir, account);
  const copied = copyBinaries(binaries, systemDir);
  if (!canReach(account, elsewhereDir, path.join(copied.dir, 'bin', 'postgres'))) {
    throw new OperatorError(
      `The account ${account.name ?? account.uid} can reach neither ${dir} nor ${elsewhereDir}: give it the right, run Furcula as another user, or set DATABASE_URL.`,
    );
  }
  writeFileSync(choiceFile, `${elsewhereDir}\n`);
  const note = `The database runs as ${account.name ?? account.uid}, which cannot enter ${path.dirname(dir)}: its data is in ${elsewhereDir}.`;
  return { dir: elsewhereDir, account, binaries: copied, note };
}

function elsewhere(dir: string): string {
  return path.join(systemDir, createHash('sha256').update(path.resolve(dir)).digest('hex').slice(0, 12));
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
