import { once } from 'node:events';
import type { Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { stringify } from 'csv-stringify';
import type { DryRunRow } from '@/lib/exchange/dry-run';
import { neutraliseFormula } from '@/lib/exchange/flat-exports';
import { REASON_COLUMN } from '@/lib/exchange/table';

/**
 * The rows that could not be taken, as they came, with the reasons in a column of their own. Corrected, the file
 * loads again with the same mapping; cells that a spreadsheet would run are written as text.
 */
export async function writeErrorFile(
  rows: AsyncIterable<DryRunRow>,
  header: readonly string[],
  out: Writable,
): Promise<number> {
  const kept = header
    .map((column, index) => ({ column, index }))
    .filter(({ column }) => column !== REASON_COLUMN);
  const lines = stringify({ bom: true, cast: { string: neutraliseFormula } });
  const written = pipeline(lines, out);
  written.catch(() => undefined);
  lines.write([...kept.map(({ column }) => column), REASON_COLUMN]);
  let count = 0;
  for await (const row of rows) {
    if (row.errors.length === 0) continue;
    count += 1;
    const cells = [...kept.map(({ index }) => row.cells[index] ?? ''), explainErrors(row)];
    if (!lines.write(cells)) await once(lines, 'drain');
  }
  lines.end();
  await written;
  return count;
}

function explainErrors(row: DryRunRow): string {
  const reasons = row.errors.map(({ column, reason, readings }) => {
    const choice = readings.length > 0 ? ` (${readings.join(' or ')})` : '';
    return `${column ? `${column}: ` : ''}${reason}${choice}`;
  });
  return reasons.join(' | ');
}
