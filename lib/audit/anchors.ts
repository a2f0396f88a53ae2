import 'server-only';
import { appendFile, readFile } from 'node:fs/promises';
import { z } from 'zod';
import { now } from '@/lib/platform/clock';
import { type ChainAnchor, type ChainVerdict, chainAnchor } from './schema';

/** A line of an anchor file. Later lines are added, earlier ones stay: an old anchor is worth as much as a new one. */
const anchorLine = chainAnchor.omit({ source: true }).extend({ at: z.iso.datetime() });

/** Adds the end of every whole chain to a file, one JSON object a line. Returns how many lines. */
export async function writeAnchors(file: string, verdicts: readonly ChainVerdict[]): Promise<number> {
  const at = now().toISOString();
  const lines = verdicts
    .filter(({ ok, rows }) => ok && rows > 0)
    .map(({ collectionId, rows, head }) =>
      JSON.stringify(anchorLine.parse({ collectionId, seq: rows, digest: head, at })),
    );
  await appendFile(file, lines.map((line) => `${line}\n`).join(''), { mode: 0o600 });
  return lines.length;
}

/** Reads an anchor file. @throws Error that names the file and the first line that is not an anchor. */
export async function readAnchors(file: string): Promise<ChainAnchor[]> {
  const lines = (await readFile(file, 'utf8')).split('\n');
  return lines.flatMap((line, index) => {
    if (line.trim() === '') return [];
    const parsed = anchorLine.safeParse(parseJson(line));
    if (!parsed.success)
      throw new Error(`Line ${index + 1} of ${file} is not an anchor that \`npm run verify\` wrote.`);
    const { at, ...anchor } = parsed.data;
    return [{ ...anchor, source: `the anchor of ${at} in ${file}` }];
  });
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}
