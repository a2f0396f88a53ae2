import { Readable } from 'node:stream';
import { parse } from 'csv-parse';
import { say } from '@/lib/platform/words/say';
import { type Excursion, ExcursionFinder, type LogGap } from './excursions';
import { parseInstant } from './log-instant';
import { type TemperatureUnit, temperatureUnits } from './schema';
import { convertToCelsius, KineticMean } from './temperature';

export type FreezerLogOptions = {
  /** Names of the columns; freezer and unit may be absent from the file. */
  columns: { time: string; temperature: string; freezer?: string; unit?: string };
  /** Freezer of every row where the file has no such column. */
  freezer?: string;
  /** Unit where the file has no such column. */
  unit?: TemperatureUnit;
  /** "+01:00", for stamps written without a zone; without it such stamps are refused. */
  utcOffset?: string;
  /** Warmest acceptable temperature in °C by freezer as named in the file. */
  thresholdsC: ReadonlyMap<string, number>;
  /** Longer than this between two readings, in minutes, is a gap: nobody knows what happened in it. */
  longestStepMinutes: number;
};

export type FreezerSummary = {
  freezer: string;
  readings: number;
  firstAt: string;
  lastAt: string;
  coldestC: number;
  warmestC: number;
  meanC: number;
  /** Mean kinetic temperature in °C; show it only where `judgeKineticMean` says it means something. */
  kineticMeanC: number;
  minutesAbove: number;
  excursions: Excursion[];
  gaps: LogGap[];
};

export type FreezerLogProblem = { line: number; message: string };
export type FreezerLogResult =
  | { ok: true; freezers: FreezerSummary[]; remarks: FreezerLogProblem[] }
  | { ok: false; problems: FreezerLogProblem[] };

/** Reading stops after this many problems: the file is the wrong one. */
const mostProblems = 25;
const mostRemarks = 100;
/** A row longer than this, in characters, is no row of a log. */
const longestRow = 10_000;

type FreezerState = {
  finder: ExcursionFinder;
  kinetic: KineticMean;
  readings: number;
  sumC: number;
  coldestC: number;
  warmestC: number;
  firstAtMs: number;
  lastAtMs: number;
  lastOffset: string;
};

/**
 * Reads a temperature log in one pass; memory grows with freezers, excursions and gaps, not with readings.
 * Any row that cannot be trusted (no zone, unknown freezer, out of order, not a temperature) refuses the whole
 * file with its line numbers, so nothing is half taken. A change of offset between rows is remarked: the
 * instants stay exact.
 * @param csv the file as a stream of bytes or text, with a header line; comma, semicolon or tab
 */
export async function readFreezerLog(csv: Readable, options: FreezerLogOptions): Promise<FreezerLogResult> {
  const problems: FreezerLogProblem[] = [];
  const remarks: FreezerLogProblem[] = [];
  const states = new Map<string, FreezerState>();
  const { delimiter, rest } = await sniffDelimiter(csv);
  const parser = parse({
    bom: true,
    delimiter,
    trim: true,
    skip_empty_lines: true,
    info: true,
    max_record_size: longestRow,
  });
  rest.on('error', (error) => parser.destroy(error));
  rest.pipe(parser);
  let columns: ColumnIndexes | null = null;
  try {
    for await (const { record, info } of parser as AsyncIterable<{
      record: string[];
      info: { lines: number };
    }>) {
      if (columns === null) {
        const found = findColumns(record, options);
        if (typeof found === 'string') return { ok: false, problems: [{ line: info.lines, message: found }] };
        columns = found;
        continue;
      }
      const problem = takeRow(record, columns, options, states, (message) => {
        if (remarks.length < mostRemarks) remarks.push({ line: info.lines, message });
      });
      if (problem !== null) problems.push({ line: info.lines, message: problem });
      if (problems.length >= mostProblems) break;
    }
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && String(error.code).startsWith('CSV_'))) throw error;
    problems.push({
      line: parser.info.lines,
      message: say('The file is not a readable table: {message}.', { message: error.message }),
    });
  } finally {
    rest.destroy();
    parser.destroy();
  }
  if (problems.length === 0 && states.size === 0)
    problems.push({ line: 1, message: say('There is no reading in it.') });
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, freezers: [...states].map(([freezer, state]) => summarise(freezer, state)), remarks };
}

/** The header tells the delimiter: with semicolons or tabs, a comma may be the decimal sign. */
async function sniffDelimiter(csv: Readable): Promise<{ delimiter: string; rest: Readable }> {
  const chunks = csv[Symbol.asyncIterator]() as AsyncIterator<Buffer | string>;
  const head: (Buffer | string)[] = [];
  let header = '';
  while (!header.includes('\n') && header.length < longestRow) {
    const next = await chunks.next();
    if (next.done) break;
    head.push(next.value);
    header += next.value.toString();
  }
  async function* replay() {
    yield* head;
    for (let next = await chunks.next(); !next.done; next = await chunks.next()) yield next.value;
  }
  const line = header.split('\n', 1)[0] ?? '';
  const delimiter = ['\t', ';'].find((sign) => line.includes(sign)) ?? ',';
  return { delimiter, rest: Readable.from(replay()) };
}

type ColumnIndexes = { time: number; temperature: number; freezer: number | null; unit: number | null };

function findColumns(header: string[], options: FreezerLogOptions): ColumnIndexes | string {
  const names = header.map((name) => name.toLowerCase());
  const find = (name: string | undefined) => (name === undefined ? null : names.indexOf(name.toLowerCase()));
  const { time, temperature, freezer, unit } = options.columns;
  for (const name of [time, temperature, freezer, unit]) {
    if (name !== undefined && find(name) === -1) {
      return say('There is no column "{name}"; the file has: {header}.', { name, header: header.join(', ') });
    }
  }
  if (freezer === undefined && options.freezer === undefined)
    return say('Say which freezer this log belongs to.');
  if (unit === undefined && options.unit === undefined) return say('Say in which unit the temperatures are.');
  return {
    time: find(time) ?? 0,
    temperature: find(temperature) ?? 0,
    freezer: find(freezer),
    unit: find(unit),
  };
}

/** Takes one row in; answers what is wrong with it, or null. */
function takeRow(
  row: string[],
  columns: ColumnIndexes,
  options: FreezerLogOptions,
  states: Map<string, FreezerState>,
  remark: (message: string) => void,
): string | null {
  const cell = (index: number | null) => (index === null ? '' : (row[index] ?? ''));
  const freezer = columns.freezer === null ? (options.freezer ?? '') : cell(columns.freezer);
  const thresholdC = options.thresholdsC.get(freezer);
  if (thresholdC === undefined)
    return say('"{freezer}" is not a freezer with a threshold here.', { freezer });
  const instant = parseInstant(cell(columns.time), options.utcOffset);
  if (typeof instant === 'string') return instant;
  const temperatureC = parseTemperature(cell(columns.temperature), cell(columns.unit), options.unit);
  if (typeof temperatureC === 'string') {
    if (temperatureC !== '') return temperatureC;
    remark(say('There is no temperature in this row; it counts as not read.'));
    return null;
  }
  let state = states.get(freezer);
  if (!state) {
    state = startState(thresholdC, options.longestStepMinutes, instant.atMs, instant.offset);
    states.set(freezer, state);
  } else if (instant.atMs <= state.lastAtMs) {
    const before = new Date(state.lastAtMs).toISOString();
    const twice = instant.atMs === state.lastAtMs ? say('at the same time as') : say('after');
    return say('Out of order: {cell} comes {twice} the reading of {before}. Sort the log by time.', {
      cell: cell(columns.time),
      twice,
      before,
    });
  }
  if (instant.offset !== state.lastOffset) {
    remark(
      say('The clock changes from UTC{lastOffset} to UTC{offset}; the instants were kept.', {
        lastOffset: state.lastOffset,
        offset: instant.offset,
      }),
    );
    state.lastOffset = instant.offset;
  }
  state.finder.add(instant.atMs, temperatureC);
  state.kinetic.add(temperatureC);
  state.readings += 1;
  state.sumC += temperatureC;
  state.coldestC = Math.min(state.coldestC, temperatureC);
  state.warmestC = Math.max(state.warmestC, temperatureC);
  state.lastAtMs = instant.atMs;
  return null;
}

function startState(
  thresholdC: number,
  longestStepMinutes: number,
  atMs: number,
  offset: string,
): FreezerState {
  return {
    finder: new ExcursionFinder(thresholdC, longestStepMinutes),
    kinetic: new KineticMean(),
    readings: 0,
    sumC: 0,
    coldestC: Number.POSITIVE_INFINITY,
    warmestC: Number.NEGATIVE_INFINITY,
    firstAtMs: atMs,
    lastAtMs: atMs,
    lastOffset: offset,
  };
}

/** °C, or what is wrong; the empty string is an empty cell. */
function parseTemperature(text: string, unitText: string, unitOption: TemperatureUnit | undefined) {
  const match = /^([-+−]?\d+(?:[.,]\d+)?)?\s*(?:°|deg)?\s*([CFK])?$/i.exec(text);
  if (!match) return say('"{text}" is not a temperature.', { text });
  if (match[1] === undefined)
    return match[2] === undefined ? '' : say('"{text}" is not a temperature.', { text });
  const written = (match[2] ?? unitText.replace(/°|deg/i, '').trim().charAt(0)).toUpperCase();
  const unit = written === '' ? unitOption : temperatureUnits.find((known) => known === written);
  if (unit === undefined) return say('The unit of "{text}" is not C, F or K.', { text });
  const value = convertToCelsius(Number(match[1].replace('−', '-').replace(',', '.')), unit);
  return value ?? say('{text} {unit} is below absolute zero.', { text, unit });
}

function summarise(freezer: string, state: FreezerState): FreezerSummary {
  const { excursions, gaps } = state.finder.finish();
  return {
    freezer,
    readings: state.readings,
    firstAt: new Date(state.firstAtMs).toISOString(),
    lastAt: new Date(state.lastAtMs).toISOString(),
    coldestC: state.coldestC,
    warmestC: state.warmestC,
    meanC: state.sumC / state.readings,
    kineticMeanC: state.kinetic.value() ?? Number.NaN,
    minutesAbove: excursions.reduce((sum, excursion) => sum + excursion.minutes, 0),
    excursions,
    gaps,
  };
}
