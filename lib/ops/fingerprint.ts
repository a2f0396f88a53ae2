import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { projectRoot } from './project';

/**
 * A digest over the names and contents of files, and of folders with all that is in them; what does not exist
 * counts as absent. Generated folders inside are left out. Paths are relative to the clone.
 */
export function fingerprint(paths: readonly string[], ignoredDirs: readonly string[] = []): string {
  const hash = createHash('sha256');
  const ignored = new Set(ignoredDirs.map((dir) => path.join(projectRoot, dir)));
  const visit = (file: string) => {
    if (ignored.has(file) || !existsSync(file)) return;
    if (statSync(file).isDirectory()) {
      for (const name of readdirSync(file).sort()) visit(path.join(file, name));
      return;
    }
    hash
      .update(`${path.relative(projectRoot, file)}\0`)
      .update(readFileSync(file))
      .update('\0');
  };
  for (const item of paths) visit(path.join(projectRoot, item));
  return hash.digest('hex');
}
