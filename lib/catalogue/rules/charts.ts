import type { ChartsAnswer } from '../figures-wire';

/** A count of one thing under another; null where the first is not known so closely. */
export type CrossCount<Key> = { key: Key | null; series: string; count: number };
export type CrossTable<Key> = {
  series: string[];
  rows: { key: Key; counts: number[] }[];
  unknown: number;
};

/** What is put together when there are more series than a chart can tell apart. */
export const OTHERS = 'all others';

/**
 * Counts as a table with one row for each of `keys`, empty ones too. Series stand most frequent first (then by name),
 * unless `fixed` names them; beyond `most` they are put together under OTHERS. What has no key, or one that is not
 * listed, counts as unknown.
 */
export function shapeCross<Key extends string | number>(
  counts: readonly CrossCount<Key>[],
  keys: readonly Key[],
  { fixed, most = 6 }: { fixed?: readonly string[]; most?: number } = {},
): CrossTable<Key> {
  const totals = new Map<string, number>();
  const wanted = new Set(keys);
  let unknown = 0;
  for (const { key, series, count } of counts) {
    if (key === null || !wanted.has(key)) unknown += count;
    else totals.set(series, (totals.get(series) ?? 0) + count);
  }
  const ranked = [...totals].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1)).map(([name]) => name);
  const shown = fixed ?? (ranked.length > most ? [...ranked.slice(0, most - 1), OTHERS] : ranked);
  const columnOf = (series: string) => {
    const at = shown.indexOf(series);
    return at === -1 ? shown.indexOf(OTHERS) : at;
  };
  const rows = new Map(keys.map((key) => [key, shown.map(() => 0)]));
  for (const { key, series, count } of counts) {
    const row = key === null ? undefined : rows.get(key);
    const at = columnOf(series);
    if (row !== undefined && at !== -1) row[at] = (row[at] ?? 0) + count;
  }
  return { series: [...shown], rows: [...rows].map(([key, list]) => ({ key, counts: list })), unknown };
}

export const MONTHS_OF_YEAR = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] as const;

/** Every year from the first to the last of these. */
export function listYears(years: readonly (number | null)[]): number[] {
  const known = years.filter((year): year is number => year !== null);
  if (known.length === 0) return [];
  const first = Math.min(...known);
  return Array.from({ length: Math.max(...known) - first + 1 }, (_, at) => first + at);
}

const Z_95 = 1.959963984540054;

/** A share with its 95 % score interval: E. B. Wilson 1927, J. Am. Stat. Assoc. 22: 209–212. Null of nothing. */
export function estimateShare(hits: number, of: number): { share: number; low: number; high: number } | null {
  if (of === 0) return null;
  const share = hits / of;
  const square = Z_95 ** 2;
  const middle = (share + square / (2 * of)) / (1 + square / of);
  const reach = (Z_95 / (1 + square / of)) * Math.sqrt((share * (1 - share)) / of + square / (4 * of ** 2));
  return { share, low: Math.max(0, middle - reach), high: Math.min(1, middle + reach) };
}

/** How many of each sex, and the share of females among the sexed. */
export function countSexes(counts: readonly { series: string; count: number }[]): ChartsAnswer['sexes'] {
  const sum = (sex: string) =>
    counts.filter(({ series }) => series === sex).reduce((total, { count }) => total + count, 0);
  const [female, male, undetermined] = [sum('female'), sum('male'), sum('undetermined')];
  return { female, male, undetermined, femaleShare: estimateShare(female, female + male) };
}
