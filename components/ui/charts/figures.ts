import { say } from '@/lib/platform/words/say';
/** The figures of a chart as a table: first column names the row, the others are numbers or words. */
export type Figures = {
  /** File name of the download, without its ending. */
  name: string;
  columns: readonly { label: string; numeric?: boolean }[];
  rows: readonly (readonly (string | number | null)[])[];
};

/** A cell of a CSV file (RFC 4180); words that a spreadsheet would take for a formula begin with an apostrophe. */
function csvCell(value: string | number | null): string {
  if (value === null) return '';
  const text = typeof value === 'number' || !/^[=+\-@\t\r]/.test(value) ? String(value) : `'${value}`;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The figures as CSV (UTF-8 with a byte order mark, so that a spreadsheet reads its letters right). */
export function figuresToCsv({ columns, rows }: Figures): string {
  const lines = [columns.map(({ label }) => label), ...rows];
  return `\uFEFF${lines.map((line) => line.map(csvCell).join(',')).join('\r\n')}\r\n`;
}

export const csvAddress = (figures: Figures): string =>
  `data:text/csv;charset=utf-8,${encodeURIComponent(figuresToCsv(figures))}`;

/** Counts by rows and series as figures, with a sum at the end of each row where there are several series. */
export function crossFigures(
  name: string,
  first: string,
  series: readonly string[],
  rows: readonly { label: string; counts: readonly number[] }[],
): Figures {
  const isSummed = series.length > 1;
  return {
    name,
    columns: [
      { label: first },
      ...series.map((label) => ({ label, numeric: true })),
      ...(isSummed ? [{ label: say('Together'), numeric: true }] : []),
    ],
    rows: rows.map(({ label, counts }) => [
      label,
      ...counts,
      ...(isSummed ? [counts.reduce((sum, count) => sum + count, 0)] : []),
    ]),
  };
}

/** Which of so many labels stand along an axis with room for `room`: every nth, the first among them. */
export const labelEvery = (count: number, room: number): number => Math.max(1, Math.ceil(count / room));

/** Ends of an axis for counts: whole numbers, at least 0 to 1. */
export function countTicks(most: number): number[] {
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 50_000].find(
    (one) => Math.max(1, most) / one <= 5,
  );
  const by = step ?? 10 ** Math.floor(Math.log10(most));
  return Array.from({ length: Math.ceil(Math.max(1, most) / by) + 1 }, (_, at) => at * by);
}
