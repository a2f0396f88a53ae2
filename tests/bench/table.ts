import type { Errand } from './errands';
import type { LiveFigures } from './live';
import type { Measured } from './load';
import { header, row } from './markdown';
import { type Soak, slopesOf } from './soak-figures';

/** One act by one number of users: over HTTP, and its statements bare where these were measured. */
export type Line = {
  act: string;
  kind: 'read' | 'write';
  isKeyed: boolean;
  users: number;
  /** 0: as fast as they are answered; else so long a pause between an answer and the next act. */
  pauseMs: number;
  http: Measured;
  bare: Measured | null;
};
/** A route that only finds out who asks, at a number of users. */
export type Base = { users: number; http: Measured };
/** What was measured in a collection of one size. */
export type Report = {
  machine: string;
  /** The day, as year-month-day. */
  on: string;
  materials: number;
  birds: number;
  /** Null for a collection that was kept from an earlier run. */
  filledInS: number | null;
  startedInMs: number;
  empty: Base[];
  lines: Line[];
  /** Resident memory of the server in MB, at rest and at most by the number of users. */
  memoryMb: { atRest: number; most: { users: number; mb: number }[] };
  live: LiveFigures | null;
  errands: Errand[];
  soak: Soak | null;
};

/** How many times longer an act takes than the empty route and its bare statements together; null without these. */
export function ratioOf({ users, pauseMs, http, bare }: Line, empty: readonly Base[]): number | null {
  const base = empty.find((one) => one.users === users);
  if (bare === null || base === undefined || pauseMs > 0) return null;
  return http.p50 / (base.http.p50 + bare.p50);
}

export type Rated = { line: Line; ratio: number };

/** The lines that have a ratio, the worst first. */
export const rate = ({ lines, empty }: Pick<Report, 'lines' | 'empty'>): Rated[] =>
  lines
    .map((line) => ({ line, ratio: ratioOf(line, empty) }))
    .filter((one): one is Rated => one.ratio !== null)
    .sort((a, b) => b.ratio - a.ratio);

/** The three worst of a report, as lines of a list. */
export const sayWorst = (report: Pick<Report, 'lines' | 'empty'>): string[] =>
  rate(report)
    .slice(0, 3)
    .map(({ line, ratio }) => `- ${line.act}, ${sayUsers(line)}: ${ratio.toFixed(2)}`);

const ms = (value: number) => value.toFixed(1);
export const sayCount = (value: number): string => value.toLocaleString('en');
export const sayUsers = ({ users, pauseMs }: Pick<Line, 'users' | 'pauseMs'>): string =>
  pauseMs > 0
    ? `${users} with ${pauseMs / 1000} s between acts`
    : `${users} ${users === 1 ? 'user' : 'users'}`;

export const HOW_TO_READ =
  'Times in ms, medians of the rounds; before its first round an act is done for five seconds (a write, as often as there are records for it), because a server that has just begun is slower than one that serves. Users act as fast as they are answered, but for the line with a pause. Ratio: the time over the empty route’s (which only finds out who asks) and the bare statements’ together. Bare: a read’s own statements sent through pg; a write’s in one transaction that goes back to its beginning before it commits, so that it changes nothing and still waits for the disk.';

/** All figures of one size as Markdown: the machine, the table, the three worst ratios, what else was measured. */
export function sayReport(report: Report): string {
  const { empty, lines } = report;
  const line = (act: string, users: string, http: Measured, bare: Measured | null, ratio: number | null) =>
    row([
      act,
      users,
      http.perSecond.toFixed(0),
      ms(http.p50),
      ms(http.p95),
      ms(http.p99),
      `${(http.spread * 100).toFixed(0)} %`,
      bare === null ? '' : ms(bare.p50),
      ratio === null ? '' : ratio.toFixed(2),
      http.count,
      http.failed,
    ]);
  return [
    `# ${sayCount(report.materials)} materials of ${sayCount(report.birds)} birds`,
    '',
    `${report.machine} Measured on ${report.on}.`,
    '',
    report.filledInS === null
      ? 'A collection of an earlier run.'
      : `Filled in ${report.filledInS.toFixed(0)} s.`,
    '',
    HOW_TO_READ,
    '',
    ...header([
      'act',
      'users',
      'per second',
      'p50',
      'p95',
      'p99',
      'spread',
      'bare p50',
      'ratio',
      'requests',
      'failed',
    ]),
    ...empty.map(({ users, http }) => line('empty route', String(users), http, null, null)),
    ...lines.map((one) => line(one.act, sayUsers(one), one.http, one.bare, ratioOf(one, empty))),
    '',
    'Worst ratios:',
    '',
    ...sayWorst(report),
    '',
    'Beside these:',
    '',
    ...sayBeside(report),
    '',
  ].join('\n');
}

/** Start, memory, live connections, errands and the soak, as lines of a list. */
export function sayBeside({ startedInMs, memoryMb, live, errands, soak }: Report): string[] {
  const most = memoryMb.most
    .filter(({ users }) => users > 0)
    .map(({ users, mb }) => `${mb.toFixed(0)} MB at most with ${sayUsers({ users, pauseMs: 0 })}`);
  return [
    `- start of the server: ${(startedInMs / 1000).toFixed(1)} s until it answers`,
    `- memory of the server: ${[`${memoryMb.atRest.toFixed(0)} MB at rest`, ...most].join(', ')}`,
    ...(live === null ? [] : [`- ${sayLive(live)}`]),
    ...errands.map(({ what, seconds, note }) => `- ${what}: ${seconds.toFixed(1)} s, ${note}`),
    ...(soak === null ? [] : [`- ${saySoak(soak)}`]),
  ];
}

const sayLive = ({ listeners, beforeMb, afterMb, heard, medianMs, longestMs }: LiveFigures): string =>
  `${listeners} open live connections: ${(afterMb - beforeMb).toFixed(0)} MB (${beforeMb.toFixed(0)} before, ${afterMb.toFixed(0)} after); one change reached ${heard} of them, the median ${medianMs.toFixed(0)} ms and the last ${longestMs.toFixed(0)} ms after it was sent`;

const signed = (value: number, unit: string) => `${value >= 0 ? '+' : ''}${value.toFixed(2)}${unit}`;

/** What a soak did and what rose in it after its first third, each minute. */
export function saySoak(soak: Soak): string {
  const { minutes, users, count, failed, perSecond, samples } = soak;
  const slopes = slopesOf(soak);
  const [first, last] = [samples[Math.floor(samples.length / 3)], samples.at(-1)];
  return (
    `${minutes} minutes of mixed acts by ${users} users: ${sayCount(count)} acts (${perSecond.toFixed(0)} a second, ${failed} refused); ` +
    `after the first third ${first?.residentMb.toFixed(0)} MB, at the end ${last?.residentMb.toFixed(0)} MB, slope ${signed(slopes.residentMb, ' MB')} a minute; ` +
    `open files ${signed(slopes.openFiles, '')}, database connections ${signed(slopes.connections, '')} a minute`
  );
}
