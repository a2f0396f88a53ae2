import { stringify } from 'csv-stringify/sync';
import { LINE_COLUMNS } from './columns';
import type { ReportPaper } from './paper';

/** One row a bird, UTF-8 with a byte order mark; what a spreadsheet would run as a formula gets an apostrophe. */
export function renderCsv({ lines }: Pick<ReportPaper, 'lines'>): string {
  return stringify(
    lines.map((line) => LINE_COLUMNS.map(({ value }) => value(line))),
    { header: true, columns: LINE_COLUMNS.map(({ name }) => name), bom: true, escape_formulas: true },
  );
}
