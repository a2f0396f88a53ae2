import type { SizeClass, SizeSettings } from '../schema';
import { addLocalMinutes, type LocalTime } from './plan-schedule';

/** The size class of a carcass of this mass in grams. */
export function sizeClassOf(massG: number, settings: SizeSettings): SizeClass {
  if (!(massG > 0)) throw new RangeError(`A mass is above 0 g, not ${massG}.`);
  const { tiny, small, medium, large } = settings.upToMassG;
  if (massG <= tiny) return 'tiny';
  if (massG <= small) return 'small';
  if (massG <= medium) return 'medium';
  return massG <= large ? 'large' : 'very-large';
}

export type PullItem = {
  birdId: string;
  label: string;
  sizeClass: SizeClass;
  /** From the room down to the position, as the storage tree names them; empty when it is not known where it lies. */
  path: string[];
  /** Already out, or never frozen: needs no lead. */
  isThawed: boolean;
  startAt: LocalTime;
  personName: string;
};

export type PullLine = PullItem & { takeOutAt: LocalTime; leadHours: number };

const natural = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

function comparePaths(a: readonly string[], b: readonly string[]): number {
  if (a.length === 0 || b.length === 0) return b.length - a.length;
  for (let level = 0; level < Math.min(a.length, b.length); level++) {
    const order = natural.compare(a[level] ?? '', b[level] ?? '');
    if (order !== 0) return order;
  }
  return a.length - b.length;
}

/**
 * When each bird is taken out (its start less the lead of its size class; lead times are settings, common practice, no
 * source) and in which order one walks to them: freezer by freezer, in the natural order of names ("Box 2" before
 * "Box 10"). Birds of unknown place come last.
 */
export function buildPullList(items: readonly PullItem[], settings: SizeSettings): PullLine[] {
  const lines = items.map((item): PullLine => {
    const leadHours = item.isThawed ? 0 : settings.leadHours[item.sizeClass];
    return { ...item, leadHours, takeOutAt: addLocalMinutes(item.startAt, -60 * leadHours) };
  });
  return lines.sort((a, b) => comparePaths(a.path, b.path) || natural.compare(a.label, b.label));
}

export type PullRound = { takeOutBy: LocalTime; lines: PullLine[] };

/**
 * Walks to the freezer: birds whose take-out falls within `withinMinutes` of the round's first are fetched together, at
 * that first time, each round in walking order.
 */
export function pullRounds(lines: readonly PullLine[], withinMinutes: number): PullRound[] {
  const byTime = [...lines].sort((a, b) =>
    a.takeOutAt < b.takeOutAt ? -1 : a.takeOutAt > b.takeOutAt ? 1 : 0,
  );
  const rounds: PullRound[] = [];
  for (const line of byTime) {
    const round = rounds.at(-1);
    if (round !== undefined && line.takeOutAt <= addLocalMinutes(round.takeOutBy, withinMinutes))
      round.lines.push(line);
    else rounds.push({ takeOutBy: line.takeOutAt, lines: [line] });
  }
  for (const round of rounds)
    round.lines.sort((a, b) => comparePaths(a.path, b.path) || natural.compare(a.label, b.label));
  return rounds;
}
