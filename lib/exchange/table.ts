import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { type CsvError, parse } from 'csv-parse';
import { readSheet, type SheetData } from 'read-excel-file/node';
import { decodeStream, type TextEncoding } from '@/lib/exchange/decode';
import { type Delimiter, type DetectedFile, detectFile, type TableSource } from '@/lib/exchange/detect';
import { inspectWorkbook, WORKBOOK_LIMITS, type WorkbookLimits } from '@/lib/exchange/workbook';
import { accept, type Outcome, refuse } from '@/lib/places/public-rules';

export interface TableRow {
  /** Line of the file or row of the sheet where the record begins, counted from 1. */
  line: number;
  /** As many cells as the header has; what is missing is empty. */
  cells: string[];
  /** What is wrong with the row as a row; its cells are judged later. */
  problems: string[];
}

export interface OpenedTable {
  kind: DetectedFile['kind'];
  encoding: TextEncoding | null;
  delimiter: Delimiter | null;
  header: string[];
  headerLine: number;
  /** What a person should know before going on. */
  notes: string[];
  rows: () => AsyncGenerator<TableRow>;
}

export interface TableLimits extends WorkbookLimits {
  fileBytes: number;
  rows: number;
  columns: number;
  /** Characters of one record: an unclosed quote would swallow the rest of the file. */
  recordCharacters: number;
}

const TABLE_LIMITS: TableLimits = {
  ...WORKBOOK_LIMITS,
  fileBytes: 200 * 1024 * 1024,
  rows: 200_000,
  columns: 1000,
  recordCharacters: 1_000_000,
};

/** The column that carries the reasons in a file of errors; it is passed over when the file is loaded again. */
export const REASON_COLUMN = 'What to correct';

interface RawRow {
  line: number;
  cells: string[];
  problem?: string;
}

const HEADER_ROWS = 20;

/** Opens a CSV or XLSX file: finds its encoding, divider and header. Nothing in it is ever run. */
export async function openTable(
  source: TableSource,
  limits: Partial<TableLimits> = {},
): Promise<Outcome<OpenedTable>> {
  const within = { ...TABLE_LIMITS, ...limits };
  const detected = await detectFile(source, within.fileBytes);
  if (!detected.ok) return detected;
  const { kind, encoding, delimiter, notes } = detected.value;
  const raw =
    kind === 'text'
      ? accept({ read: () => readText(source, encoding, delimiter, within), notes })
      : await openWorkbook(source, within);
  if (!raw.ok) return raw;
  const found = await findHeader(raw.value.read());
  if (!found.ok) return found;
  const { header, headerLine } = found.value;
  if (header.length > within.columns)
    return refuse('out-of-range', `The table has more than ${within.columns} columns.`);
  return accept({
    kind,
    encoding: kind === 'text' ? encoding : null,
    delimiter: kind === 'text' ? delimiter : null,
    header,
    headerLine,
    notes: [...raw.value.notes, ...found.value.notes],
    rows: () => fitRows(raw.value.read(), header, headerLine, within.rows),
  });
}

async function* readText(
  source: TableSource,
  encoding: TextEncoding,
  delimiter: Delimiter,
  limits: TableLimits,
): AsyncGenerator<RawRow> {
  // A stream that fails drops what it had read and not yet handed on, so the rows are kept here as they are made.
  const made: RawRow[] = [];
  let line = 1;
  const parser = parse({
    delimiter,
    relax_column_count: true,
    relax_quotes: true,
    skip_empty_lines: true,
    max_record_size: limits.recordCharacters,
    record_delimiter: ['\r\n', '\n', '\r'],
    on_record: (cells: string[], { lines }) => {
      made.push({ line, cells });
      line = lines + 1;
      return cells;
    },
  });
  const input = source.open();
  const fed = pipeline(input, decodeStream(encoding), parser);
  fed.catch(() => undefined);
  try {
    for await (const _ of parser) {
      const row = made.shift();
      if (row) yield row;
    }
    await fed;
  } catch (error) {
    yield* made;
    yield { line, cells: [], problem: explainCsvError(error as CsvError) };
  } finally {
    input.destroy();
  }
}

function explainCsvError(error: CsvError): string {
  if (error.code === 'CSV_QUOTE_NOT_CLOSED' || error.code === 'CSV_MAX_RECORD_SIZE') {
    return 'A quotation mark is opened here and never closed; the rest of the file could not be read.';
  }
  return `The rest of the file could not be read: ${error.message}`;
}

interface RawTable {
  read: () => AsyncGenerator<RawRow>;
  notes: string[];
}

async function openWorkbook(source: TableSource, limits: TableLimits): Promise<Outcome<RawTable>> {
  const bytes = await readAll(source.open());
  const facts = await inspectWorkbook(bytes, limits);
  if (!facts.ok) return facts;
  const { formulaCells, errorCells, mergedRanges, hasMacros, date1904 } = facts.value;
  const notes: string[] = [];
  if (formulaCells > 0)
    notes.push(
      `${formulaCells} cells are formulas; their last computed value was taken, nothing was computed.`,
    );
  if (errorCells > 0) notes.push(`${errorCells} cells hold an error such as #REF! and are empty here.`);
  if (mergedRanges > 0)
    notes.push(`${mergedRanges} ranges of cells are merged; only the first cell of each has a value.`);
  if (hasMacros) notes.push('The workbook carries macros; they were not looked at.');
  if (date1904) notes.push('The workbook counts its days from 1904; its dates were read so.');
  let sheet: SheetData;
  try {
    sheet = await readSheet(bytes);
  } catch {
    return refuse(
      'unreadable',
      'The first sheet of the workbook cannot be read. Save it anew as .xlsx, or as CSV.',
    );
  }
  const read = async function* (): AsyncGenerator<RawRow> {
    for (const [index, row] of sheet.entries()) {
      if (row.some((cell) => cell !== null && cell !== ''))
        yield { line: index + 1, cells: row.map(writeCell) };
    }
  };
  return accept({ read, notes });
}

async function readAll(stream: Readable): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of stream as AsyncIterable<Buffer>) chunks.push(chunk);
  return Buffer.concat(chunks);
}

/** A cell as text: dates as ISO days, with the time where there is one. */
function writeCell(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  if (!(cell instanceof Date)) return String(cell);
  const iso = cell.toISOString();
  return iso.endsWith('T00:00:00.000Z') ? iso.slice(0, 10) : iso.slice(0, 16);
}

interface FoundHeader {
  header: string[];
  headerLine: number;
  notes: string[];
}

/** The first row that is filled about as far as the rows below it; titles above it are passed over. */
async function findHeader(rows: AsyncGenerator<RawRow>): Promise<Outcome<FoundHeader>> {
  const first: RawRow[] = [];
  for await (const row of rows) {
    if (row.problem && first.length === 0) return refuse('unreadable', row.problem);
    first.push(row);
    if (first.length >= HEADER_ROWS) break;
  }
  const filled = (row: RawRow) => row.cells.filter((cell) => cell.trim() !== '').length;
  const widest = Math.max(0, ...first.map(filled));
  const headerRow = first.find((row) => filled(row) >= Math.max(1, widest / 2));
  if (!headerRow) return refuse('empty', 'The table has no rows.');
  const numbers = headerRow.cells.filter(
    (cell) => /^\s*[-+]?\d+(?:[.,]\d+)?\s*$/.test(cell) || /^\d{4}-\d{2}-\d{2}/.test(cell),
  );
  if (numbers.length > filled(headerRow) / 3) {
    return refuse(
      'unreadable',
      'The first row looks like data. Put a row with the names of the columns above it.',
    );
  }
  return accept(nameColumns(headerRow, first.indexOf(headerRow)));
}

function nameColumns(row: RawRow, above: number): FoundHeader {
  const notes: string[] = [];
  if (above > 0) notes.push(`${above} ${above === 1 ? 'row' : 'rows'} above the header were passed over.`);
  const seen = new Map<string, number>();
  const header = row.cells.map((cell, index) => {
    const name = dropControls(cell).replace(/\s+/g, ' ').trim() || `Column ${index + 1}`;
    const times = (seen.get(name.toLowerCase()) ?? 0) + 1;
    seen.set(name.toLowerCase(), times);
    if (times > 1)
      notes.push(`Two columns are called "${name}"; the later one is "${name} (${times})" here.`);
    return times > 1 ? `${name} (${times})` : name;
  });
  while (header.length > 1 && row.cells[header.length - 1]?.trim() === '') header.pop();
  return { header, headerLine: row.line, notes };
}

async function* fitRows(
  rows: AsyncGenerator<RawRow>,
  header: string[],
  headerLine: number,
  most: number,
): AsyncGenerator<TableRow> {
  let count = 0;
  for await (const { line, cells, problem } of rows) {
    if (line <= headerLine) continue;
    if (problem) {
      yield { line, cells: header.map(() => ''), problems: [problem] };
      return;
    }
    if (cells.every((cell) => cell.trim() === '')) continue;
    count += 1;
    if (count > most) {
      yield {
        line,
        cells: header.map(() => ''),
        problems: [`The table has more than ${most} rows; from here on nothing was read.`],
      };
      return;
    }
    yield fitRow(line, cells, header);
  }
}

function fitRow(line: number, cells: string[], header: string[]): TableRow {
  const problems: string[] = [];
  const surplus = cells.slice(header.length).filter((cell) => cell.trim() !== '').length;
  if (surplus > 0)
    problems.push(
      `The row has ${surplus} more filled cells than the header; a divider may stand inside a text without quotation marks.`,
    );
  if (cells.some((cell) => cell.includes('\uFFFD')))
    problems.push('Letters were lost: the row is not in the encoding of the file.');
  return { line, cells: header.map((_, index) => cleanCell(cells[index] ?? '')), problems };
}

const dropControls = (cell: string): string => cell.replace(/(?![\t\r\n])\p{Cc}|\p{Surrogate}/gu, '');

/**
 * Trims, leaves out what no text holds (control characters), and takes off the apostrophe that was put before text that
 * a spreadsheet would run as a formula.
 */
function cleanCell(cell: string): string {
  const text = dropControls(cell).replace(/^[\s\u00a0\ufeff]+|[\s\u00a0]+$/g, '');
  return /^'[=+\-@\t]/.test(text) ? text.slice(1) : text;
}
