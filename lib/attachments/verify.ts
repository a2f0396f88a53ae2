import 'server-only';
import { db } from '@/lib/platform/db';
import { readAllFiles } from './repo';
import type { FileCopy } from './schema';
import { readCopy, sha256Of } from './store';

export type FileFault = { id: string; copy: FileCopy; why: 'missing' | 'changed' };

/** Reads every stored copy of every file and compares its digest with the one of the day it came: `npm run verify`. */
export async function verifyFiles(): Promise<{ files: number; faults: FileFault[] }> {
  const faults: FileFault[] = [];
  let files = 0;
  for await (const file of readAllFiles(db())) {
    files += 1;
    const digests = { original: file.sha256, public: file.publicSha256, thumb: file.thumbSha256 } as const;
    for (const copy of ['original', 'public', 'thumb'] as const) {
      if (digests[copy] === null) continue;
      const bytes = await readCopy(file, copy);
      if (bytes === null) faults.push({ id: file.id, copy, why: 'missing' });
      else if (sha256Of(bytes) !== digests[copy]) faults.push({ id: file.id, copy, why: 'changed' });
    }
  }
  return { files, faults };
}
