import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/**
 * Makes a folder for things that are thrown away. Everybody may pass through it, because a database in it may
 * run under another account than ours.
 */
export function makeScratchDir(purpose: string): string {
  const dir = mkdtempSync(path.join(tmpdir(), `furcula-${purpose}-`));
  chmodSync(dir, 0o755);
  return dir;
}

/** Removes it with all that is in it. */
export function removeScratchDir(dir: string): void {
  rmSync(dir, { recursive: true, force: true });
}
