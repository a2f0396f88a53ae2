import { linkSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { OperatorError } from '../operator-error';
import { processStamp, waitUntil } from '../processes';

interface Owner {
  pid: number;
  stamp: string;
}

/**
 * Notes this process as the one that runs the database in `homeDir`, and returns the function that takes the
 * note away. One that still runs gets `patienceMs` to finish stopping; one that was killed is forgotten.
 */
export async function claimHome(homeDir: string, patienceMs = 8000): Promise<() => void> {
  const file = path.join(homeDir, 'owner.json');
  const note: Owner = { pid: process.pid, stamp: processStamp(process.pid) ?? '' };
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, JSON.stringify(note), { mode: 0o600 });
  try {
    while (!tryLink(draft, file)) {
      const other = readOwner(file);
      const isGone = () => !other || processStamp(other.pid) !== other.stamp;
      if (!(await waitUntil(isGone, patienceMs))) throw runsAlready(other?.pid, homeDir);
      rmSync(file, { force: true });
    }
  } finally {
    rmSync(draft, { force: true });
  }
  return () => {
    if (readOwner(file)?.pid === process.pid) rmSync(file, { force: true });
  };
}

/** A hard link appears whole or not at all, so that two that start at once cannot both succeed. */
function tryLink(draft: string, file: string): boolean {
  try {
    linkSync(draft, file);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

function readOwner(file: string): Owner | undefined {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Owner;
  } catch {
    return undefined;
  }
}

function runsAlready(pid: number | undefined, homeDir: string): OperatorError {
  return new OperatorError(
    `Furcula already runs from this folder (process ${pid}, database in ${homeDir}): stop it first, or use another folder.`,
  );
}
