import type { Measured } from './load';

/** One act by one number of users: over HTTP, and its statements bare where they can be sent again. */
export type Line = {
  act: string;
  kind: 'read' | 'write';
  users: number;
  http: Measured;
  bare: Measured | null;
};
export type Report = {
  machine: string;
  materials: number;
  birds: number;
  filledInS: number | null;
  /** By users: a route that only finds out who asks. */
  empty: { users: number; http: Measured }[];
  lines: Line[];
  /** Resident memory of the server in MB, at rest and at most; null where its process is not known. */
  memoryMb: { atRest: number; most: number } | null;
};

/** How many times longer an act takes than the empty route and its bare statements together; null without these. */
export function ratioOf({ users, http, bare }: Line, empty: Report['empty']): number | null {
  const base = empty.find((one) => one.users === users);
  if (bare === null || base === undefined) return null;
  return http.p50 / (base.http.p50 + bare.p50);
}

const ms = (value: number) => value.toFixed(1);

/** The report as Markdown: the machine, the table, the three worst ratios. */
export function sayReport(report: Report): string {
  const { empty, lines, memoryMb } = report;
  const row = (act: string, users: number, http: Measured, bare: Measured | null, ratio: number | null) =>
    `| ${[
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
    ].join(' | ')} |`;
  const rated = lines
    .map((line) => ({ line, ratio: ratioOf(line, empty) }))
    .filter((one): one is { line: Line; ratio: number } => one.ratio !== null)
    .sort((a, b) => b.ratio - a.ratio);
  return [
    `# ${report.materials.toLocaleString('en')} materials of ${report.birds.toLocaleString('en')} birds`,
    '',
    report.machine,
    '',
    report.filledInS === null
      ? 'A collection of an earlier run.'
      : `Filled in ${report.filledInS.toFixed(0)} s.`,
    memoryMb === null
      ? 'The server’s memory was not seen.'
      : `The server held ${memoryMb.atRest.toFixed(0)} MB at rest and ${memoryMb.most.toFixed(0)} MB at most.`,
    '',
    'Times in ms, medians of the rounds; spread: distance of the rounds’ medians. Ratio: the time over the empty route’s and the bare statements’ together.',
    '',
    '| act | users | per second | p50 | p95 | p99 | spread | bare p50 | ratio | requests | failed |',
    '|---|---|---|---|---|---|---|---|---|---|---|',
    ...empty.map(({ users, http }) => row('empty route', users, http, null, null)),
    ...lines.map((line) => row(line.act, line.users, line.http, line.bare, ratioOf(line, empty))),
    '',
    'Worst ratios:',
    '',
    ...rated.slice(0, 3).map(({ line, ratio }) => `- ${line.act}, ${line.users} users: ${ratio.toFixed(2)}`),
    '',
  ].join('\n');
}
