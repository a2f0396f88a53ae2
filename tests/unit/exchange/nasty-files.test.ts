import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { openTable, type TableRow } from '@/lib/exchange/table';
import { nastyFiles } from './nasty-files';

const files = await nastyFiles();

describe('files people hand in', () => {
  it('there are at least sixty, each with a name of its own', () => {
    expect(files.length).toBeGreaterThanOrEqual(60);
    expect(new Set(files.map((file) => file.name)).size).toBe(files.length);
  });

  it.each(files)('$name', async ({ bytes, limits, outcome }) => {
    const chunks: Buffer[] = [];
    for (let at = 0; at < bytes.length; at += 65_536) chunks.push(bytes.subarray(at, at + 65_536));
    const opened = await openTable({ name: 'file', open: () => Readable.from(chunks) }, limits);
    if ('refused' in outcome) {
      expect(opened).toMatchObject({
        ok: false,
        code: outcome.refused,
        message: expect.stringContaining(outcome.saying ?? ''),
      });
      return;
    }
    if (!opened.ok) throw new Error(opened.message);
    const rows: TableRow[] = [];
    for await (const row of opened.value.rows()) rows.push(row);
    expect(opened.value.header).toEqual(outcome.header);
    expect(rows.map((row) => row.cells)).toEqual(outcome.rows);
    expect(rows.flatMap((row) => row.problems)).toHaveLength(outcome.problems ?? 0);
    if (outcome.note) expect(opened.value.notes.join(' ')).toContain(outcome.note);
    if (outcome.encoding) expect(opened.value.encoding).toBe(outcome.encoding);
    if (outcome.delimiter) expect(opened.value.delimiter).toBe(outcome.delimiter);
  });
});
