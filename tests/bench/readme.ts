import { OperatorError } from '@/lib/ops/operator-error';
import { judge } from './goals';
import { growthOf } from './growth';
import type { Measured } from './load';
import { header, row } from './markdown';
import { HOW_TO_READ, type Line, type Report, ratioOf, sayBeside, sayCount, sayWorst } from './table';

const BEGIN = '<!-- written by npm run bench: begin -->';
const END = '<!-- written by npm run bench: end -->';
const TITLE = '## How fast it is';
/** Where the section goes into a README that has none. */
const BEFORE = '## Security';

/** A program of the bench that needs no filled collection, and what it printed. */
export type ProgramSaid = { name: string; said: string[] };

const ms = (value: number) => (value < 10 ? value.toFixed(1) : value.toFixed(0));
const sayTimes = ({ p50, p95, p99, perSecond }: Measured) =>
  `${ms(p50)} / ${ms(p95)} / ${ms(p99)}, ${perSecond.toFixed(0)}/s`;

/** The table over sizes as Markdown: the largest size in full, growth, worst ratios, goals, what else was measured. */
export function sayBench(reports: readonly Report[], programs: readonly ProgramSaid[]): string {
  const sizes = [...reports].sort((a, b) => a.materials - b.materials);
  const largest = sizes.at(-1);
  if (largest === undefined) return '';
  return [
    `${largest.machine} Measured on ${largest.on} by \`npm run bench\` with ${sizes.map(({ materials }) => sayCount(materials)).join(', ')} materials. ${HOW_TO_READ}`,
    '',
    `With ${sayCount(largest.materials)} materials of ${sayCount(largest.birds)} birds; p50 / p95 / p99 and requests a second:`,
    '',
    ...sayActs(largest, sizes),
    '',
    'Worst ratios:',
    '',
    ...sayWorst(largest),
    '',
    ...header(['goal', 'measured', 'met']),
    ...judge(sizes).map(({ goal, figure, isMet }) =>
      row([goal, figure, isMet === null ? '' : isMet ? 'yes' : 'no']),
    ),
    '',
    ...sizes.flatMap((report) => [
      `With ${sayCount(report.materials)} materials:`,
      '',
      ...sayBeside(report),
      '',
    ]),
    ...programs.flatMap(({ name, said }) => [`${name}:`, '', ...said.map((line) => `- ${line}`), '']),
  ]
    .join('\n')
    .trim();
}

function sayActs({ lines, empty }: Report, sizes: readonly Report[]): string[] {
  const users = empty.map((base) => base.users);
  const growth = growthOf(sizes);
  const paused = lines.find(({ pauseMs }) => pauseMs > 0);
  const of = (act: string, count: number) =>
    lines.find((line) => line.act === act && line.users === count && line.pauseMs === 0);
  const each = (act: string, say: (line: Line) => string) =>
    users.map((count) => {
      const line = of(act, count);
      return line === undefined ? '–' : say(line);
    });
  const sayGrowth = (act: string) =>
    users
      .map((count) => growth.find((one) => one.act === act && one.users === count))
      .map((one) => (one === undefined ? '–' : one.times.toFixed(2)))
      .join(' / ');
  const sayPaused = (act: string) => {
    const line = lines.find((one) => one.act === act && one.pauseMs > 0);
    return line === undefined ? '' : ms(line.http.p95);
  };
  const byUsers = users.join(' / ');
  const acts = [...new Set(lines.map(({ act }) => act))];
  return [
    ...header([
      'act',
      ...users.map((count) => `${count} ${count === 1 ? 'user' : 'users'}`),
      ...(paused === undefined ? [] : [`${paused.users} with ${paused.pauseMs / 1000} s between acts, p95`]),
      `bare p50, ${byUsers}`,
      `ratio, ${byUsers}`,
      ...(growth.length === 0 ? [] : [`growth, ${byUsers}`]),
    ]),
    row([
      'empty route',
      ...empty.map(({ http }) => sayTimes(http)),
      ...(paused === undefined ? [] : ['']),
      '',
      '',
      ...(growth.length === 0 ? [] : ['']),
    ]),
    ...acts.map((act) =>
      row([
        act,
        ...each(act, ({ http }) => sayTimes(http)),
        ...(paused === undefined ? [] : [sayPaused(act)]),
        each(act, ({ bare }) => (bare === null ? '–' : ms(bare.p50))).join(' / '),
        each(act, (line) => ratioOf(line, empty)?.toFixed(2) ?? '–').join(' / '),
        ...(growth.length === 0 ? [] : [sayGrowth(act)]),
      ]),
    ),
  ];
}

/**
 * A README with this text between the bench's two marks; what stands outside them stays. Without marks the section is made.
 * @throws OperatorError when the marks are broken or there is no place for the section.
 */
export function writeInto(readme: string, text: string): string {
  const [from, to] = [readme.indexOf(BEGIN), readme.indexOf(END)];
  const part = `${BEGIN}\n${text}\n${END}`;
  if (from >= 0 && to > from) return `${readme.slice(0, from)}${part}${readme.slice(to + END.length)}`;
  if (from >= 0 || to >= 0)
    throw new OperatorError(`README.md has one mark of the bench without the other: ${BEGIN} … ${END}`);
  const place = readme.indexOf(`${BEFORE}\n`);
  if (place < 0) throw new OperatorError(`README.md has no section “${BEFORE}” to stand before.`);
  return `${readme.slice(0, place)}${TITLE}\n${part}\n\n${readme.slice(place)}`;
}
