import { median } from 'd3-array';
import { say } from '@/lib/platform/words/say';

/** From 3.5 on a modified z-score marks an outlier (Iglewicz & Hoaglin 1993). */
export const OUTLIER_THRESHOLD = 3.5;
/** With fewer other birds than this nothing can be said. */
export const FEWEST_PEERS = 5;

/** 0.6745 is the third quartile of the standard normal: it makes the unscaled deviation comparable to one. */
const CONSISTENCY = 0.6745;

/** Median of the absolute deviations from the median, unscaled; null for an empty list. */
export function medianAbsoluteDeviation(values: readonly number[]): number | null {
  const centre = median(values);
  if (centre === undefined) return null;
  return median(values, (value) => Math.abs(value - centre)) ?? null;
}

/**
 * Modified z-score 0.6745·(value − median)/MAD of a value against others (Iglewicz & Hoaglin 1993).
 * Null where it has no meaning: no others, or more than half of them alike (MAD = 0).
 */
export function modifiedZScore(value: number, others: readonly number[]): number | null {
  const centre = median(others);
  const deviation = medianAbsoluteDeviation(others);
  if (centre === undefined || deviation === null || deviation === 0) return null;
  return (CONSISTENCY * (value - centre)) / deviation;
}

/** One measured value with the words that a sentence about it needs. */
export interface JudgedValue {
  /** "Wing" */
  label: string;
  value: number;
  unit: string | null;
  /** Words for more and less of it; "longer" and "shorter" by default. */
  more?: string;
  less?: string;
}

export interface PeerGroup {
  /** In the plural, as it ends "all 24 …": "female robins". */
  name: string;
  values: readonly number[];
}

export type Judgement =
  | { verdict: 'usual' | 'unusual'; modifiedZ: number; n: number; min: number; max: number; sentence: string }
  | { verdict: 'cannot-judge'; reason: 'too-few' | 'no-spread'; n: number; sentence: string };

/** Holds one value against the same measure of other birds and says in a sentence how it lies among them. */
export function judgeAgainstPeers(judged: JudgedValue, peers: PeerGroup): Judgement {
  const values = peers.values.filter(Number.isFinite);
  const n = values.length;
  const said = `${judged.label} ${sayValue(judged.value, judged.unit)}`;
  if (n < FEWEST_PEERS) {
    const others =
      n === 0
        ? say('no {name} here yet', { name: peers.name })
        : say('only {n} {name} here', { n, name: peers.name });
    return {
      verdict: 'cannot-judge',
      reason: 'too-few',
      n,
      sentence: say('{said}: cannot judge, {others}', { said, others }),
    };
  }
  const modifiedZ = modifiedZScore(judged.value, values);
  if (modifiedZ === null) {
    const same = sayValue(median(values) ?? 0, judged.unit);
    const sentence = say('{said}: cannot judge, at least half of the {n} {name} here have exactly {same}', {
      said,
      n,
      name: peers.name,
      same,
    });
    return { verdict: 'cannot-judge', reason: 'no-spread', n, sentence };
  }
  const min = Math.min(...values);
  const max = Math.max(...values);
  const verdict = Math.abs(modifiedZ) > OUTLIER_THRESHOLD ? 'unusual' : 'usual';
  const sentence = say('{said}: {placeAmong} here ({trim}–{trim2})', {
    said,
    placeAmong: placeAmong(judged, peers.name, values),
    trim: trim(min),
    trim2: trim(max),
  });
  return { verdict, modifiedZ, n, min, max, sentence };
}

function placeAmong(
  { value, more = say('longer'), less = say('shorter') }: JudgedValue,
  name: string,
  values: readonly number[],
) {
  const n = values.length;
  const below = values.filter((other) => other < value).length;
  const above = values.filter((other) => other > value).length;
  if (below === n) return say('{more} than all {n} {name}', { more, n, name });
  if (above === n) return say('{less} than all {n} {name}', { less, n, name });
  return below >= above
    ? say('{more} than {below} of {n} {name}', { more, below, n, name })
    : say('{less} than {above} of {n} {name}', { less, above, n, name });
}

const trim = (value: number): string => String(Math.round(value * 100) / 100);

const sayValue = (value: number, unit: string | null): string =>
  unit === null ? trim(value) : `${trim(value)}${unit === '%' ? '' : ' '}${unit}`;

export interface PeerBird {
  taxonId: string;
  sex: string | null;
  /** Month of death, 1 to 12, when known. */
  month: number | null;
  value: number;
}

/** How the peers were chosen: the closest group that is large enough. */
export type PeerBasis = 'same-taxon-sex-season' | 'same-taxon-sex' | 'same-taxon';

/**
 * The birds to hold a value against: same taxon, sex and season (death within a month, round the year) when
 * the measure changes with the season, else same taxon and sex, else same taxon. A wider group is taken only
 * when the closer one has fewer than five birds.
 */
export function choosePeers(
  birds: readonly PeerBird[],
  subject: { taxonId: string; sex: string | null; month: number | null },
  changesWithSeason: boolean,
): { basis: PeerBasis; values: number[] } {
  const taxon = birds.filter((bird) => bird.taxonId === subject.taxonId);
  const known = subject.sex === 'female' || subject.sex === 'male';
  const sex = known ? taxon.filter((bird) => bird.sex === subject.sex) : [];
  const { month } = subject;
  const season =
    changesWithSeason && month !== null
      ? sex.filter((bird) => bird.month !== null && monthsApart(bird.month, month) <= 1)
      : [];
  const groups: [PeerBasis, PeerBird[]][] = [
    ['same-taxon-sex-season', season],
    ['same-taxon-sex', sex],
    ['same-taxon', taxon],
  ];
  const [basis, chosen] = groups.find(([, group]) => group.length >= FEWEST_PEERS) ?? ['same-taxon', taxon];
  return { basis, values: chosen.map(({ value }) => value) };
}

/** Months between two months of the year, the short way round: 0 to 6. */
export function monthsApart(a: number, b: number): number {
  const apart = Math.abs(a - b) % 12;
  return Math.min(apart, 12 - apart);
}

export interface StripPlot {
  domain: [number, number];
  /** One dot a bird; equal values are stacked by level. */
  dots: { value: number; level: number }[];
  median: number | null;
  /** Values beyond these are unusual; null when the spread cannot be judged. */
  usual: [number, number] | null;
  value: number;
}

/** What a strip plot draws: the peers, their median, the usual band and the new value on it. */
export function stripPlot(value: number, peers: readonly number[]): StripPlot {
  const sorted = peers.filter(Number.isFinite).sort((a, b) => a - b);
  const centre = median(sorted) ?? null;
  const deviation = medianAbsoluteDeviation(sorted);
  const reach =
    sorted.length >= FEWEST_PEERS && deviation ? (OUTLIER_THRESHOLD * deviation) / CONSISTENCY : null;
  const usual: [number, number] | null =
    centre !== null && reach !== null ? [centre - reach, centre + reach] : null;
  const all = [value, ...sorted, ...(usual ?? [])];
  const low = Math.min(...all);
  const high = Math.max(...all);
  const margin = (high - low || Math.abs(value) || 1) * 0.05;
  const dots = sorted.map((dot, at) => ({ value: dot, level: at - sorted.indexOf(dot) }));
  return { domain: [low - margin, high + margin], dots, median: centre, usual, value };
}
