import { phrases, say } from '@/lib/platform/words/say';
/** A value beside others of its kind: where it lies, in words and on a strip. Pure. */

export type Comparison = { more: string; less: string };
export const LONGER: Comparison = phrases({ more: 'longer', less: 'shorter' });
export const HEAVIER: Comparison = phrases({ more: 'heavier', less: 'lighter' });

/** Up to four significant figures, as they would be read out. */
export const sayFigure = (value: number): string =>
  String(Number(value.toPrecision(4))).replace('-', '\u2212');

/**
 * 'Wing 131 mm: longer than all 24 female robins here (104–128)'. Inside the range it says how many are smaller.
 * @param group noun for the others in the plural: 'female robins here'
 */
export function sayAgainst(value: {
  name: string;
  value: number;
  unit: string;
  others: readonly number[];
  group: string;
  comparison?: Comparison;
}): string {
  const { others, comparison = LONGER } = value;
  const head = `${value.name} ${sayFigure(value.value)} ${value.unit}`;
  if (others.length === 0) return say('{head}: no {group} to compare with', { head, group: value.group });
  const [low, high] = [Math.min(...others), Math.max(...others)];
  const range = `(${sayFigure(low)}–${sayFigure(high)})`;
  const all = say('all {length} {group} {range}', { length: others.length, group: value.group, range });
  if (value.value > high) return say('{head}: {more} than {all}', { head, more: comparison.more, all });
  if (value.value < low) return say('{head}: {less} than {all}', { head, less: comparison.less, all });
  const smaller = others.filter((other) => other < value.value).length;
  return say('{head}: {more} than {smaller} of {length} {group} {range}', {
    head,
    more: comparison.more,
    smaller,
    length: others.length,
    group: value.group,
    range,
  });
}

export type StripDot = { value: number; xPercent: number; level: number };
export type Strip = { domain: [number, number]; dots: StripDot[]; levels: number };

const BINS = 64;

/** Position along the strip in per cent. */
export const placeOn = (domain: readonly [number, number], value: number): number =>
  domain[1] === domain[0] ? 50 : (100 * (value - domain[0])) / (domain[1] - domain[0]);

/** Places each value on the strip and stacks those that would cover one another (level 0 lowest). */
export function layOutStrip(values: readonly number[], alsoShow: readonly number[]): Strip {
  const all = [...values, ...alsoShow];
  if (all.length === 0) return { domain: [0, 1], dots: [], levels: 0 };
  const [low, high] = [Math.min(...all), Math.max(...all)];
  // Values closer than a number can tell apart have no room between them: they lie as one does.
  const room = (high - low) * 0.05;
  const margin = low - room < low && high + room > high ? room : Math.max(1, Math.abs(high) * 0.05);
  const domain: [number, number] = [low - margin, high + margin];
  const heights = new Map<number, number>();
  const dots = [...values]
    .sort((a, b) => a - b)
    .map((value) => {
      const xPercent = placeOn(domain, value);
      const bin = Math.floor((xPercent / 100) * BINS);
      const level = heights.get(bin) ?? 0;
      heights.set(bin, level + 1);
      return { value, xPercent, level };
    });
  return { domain, dots, levels: Math.max(0, ...heights.values()) };
}
