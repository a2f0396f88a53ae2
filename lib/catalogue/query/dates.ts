/** Days from and to, both included. */
export type DayRange = { from: string; to: string };

const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];

/** First months of the meteorological seasons of the northern half of the Earth; the southern are six months on. */
const SEASONS: Record<string, number> = { spring: 3, summer: 6, autumn: 9, fall: 9, winter: 12 };

export type Hemisphere = 'north' | 'south';

const pad = (value: number) => String(value).padStart(2, '0');
const lastDay = (year: number, month: number) => new Date(Date.UTC(year, month, 0)).getUTCDate();
const monthRange = (year: number, month: number): DayRange => ({
  from: `${year}-${pad(month)}-01`,
  to: `${year}-${pad(month)}-${pad(lastDay(year, month))}`,
});

/** The number of a month by its English name or its first three letters or more; null when it is none. */
export function monthNumber(word: string): number | null {
  const text = word.toLowerCase().replace(/\.$/, '');
  if (text.length < 3) return null;
  const at = MONTHS.findIndex((name) => name === text || (name.startsWith(text) && text.length <= 4));
  return at < 0 ? null : at + 1;
}

/** The three months of a season, in the order they follow each other; null when it is none. */
export function seasonMonths(word: string, hemisphere: Hemisphere): number[] | null {
  const first = Object.hasOwn(SEASONS, word.toLowerCase()) ? SEASONS[word.toLowerCase()] : undefined;
  if (first === undefined) return null;
  const shift = hemisphere === 'south' ? 6 : 0;
  return [0, 1, 2].map((step) => ((first - 1 + shift + step) % 12) + 1);
}

/** A season of a year. One that runs over the turn of the year bears the year in which it begins. */
export function seasonRange(word: string, year: number, hemisphere: Hemisphere): DayRange | null {
  const months = seasonMonths(word, hemisphere);
  const [first, , last] = months ?? [];
  if (first === undefined || last === undefined) return null;
  return { from: monthRange(year, first).from, to: monthRange(last < first ? year + 1 : year, last).to };
}

const isYear = (year: number) => year >= 1700 && year <= 2199;

/** A day, month or year as ISO 8601 writes it; null when it is none or does not exist. */
export function isoRange(text: string): DayRange | null {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(text);
  if (match === null) return null;
  const [year, month, day] = [Number(match[1]), Number(match[2] ?? 1), Number(match[3] ?? 1)];
  if (!isYear(year) || month < 1 || month > 12 || day < 1 || day > lastDay(year, month)) return null;
  if (match[3] !== undefined) return { from: text, to: text };
  return match[2] === undefined ? { from: `${year}-01-01`, to: `${year}-12-31` } : monthRange(year, month);
}

/** Two ISO dates with ".." between, either left out; or one alone. */
export function isoInterval(text: string): { from: string | null; to: string | null } | null {
  const parts = text.split('..');
  if (parts.length === 1) return isoRange(text);
  const [first = '', second = ''] = parts;
  if (parts.length !== 2 || (first === '' && second === '')) return null;
  const from = first === '' ? null : isoRange(first);
  const to = second === '' ? null : isoRange(second);
  if ((first !== '' && from === null) || (second !== '' && to === null)) return null;
  if (from !== null && to !== null && from.from > to.to) return null;
  return { from: from?.from ?? null, to: to?.to ?? null };
}

/** The shortest ISO text that `isoInterval` reads as these days. */
export function printInterval({ from, to }: { from: string | null; to: string | null }): string {
  if (from !== null && to !== null) {
    for (const short of [from.slice(0, 4), from.slice(0, 7), from]) {
      const range = isoRange(short);
      if (range?.from === from && range.to === to) return short;
    }
  }
  return `${from ?? ''}..${to ?? ''}`;
}

/** Days said in up to three words: "2024", "2024-03", "spring 2023", "March 2024", "5 March 2024", "March 5 2024". */
export function phraseRange(words: readonly string[], hemisphere: Hemisphere): DayRange | null {
  const [first = '', second = '', third = ''] = words.map((word) => word.replace(/,$/, ''));
  if (words.length === 1) return isoRange(first);
  if (words.length === 2) {
    const year = Number(second);
    if (!/^\d{4}$/.test(second) || !isYear(year)) return null;
    const month = monthNumber(first);
    return month === null ? seasonRange(first, year, hemisphere) : monthRange(year, month);
  }
  if (words.length !== 3 || !/^\d{4}$/.test(third)) return null;
  const month = monthNumber(first) ?? monthNumber(second);
  const day = /^\d{1,2}$/.test(first) ? first : second;
  return month === null || !/^\d{1,2}$/.test(day)
    ? null
    : isoRange(`${third}-${pad(month)}-${pad(Number(day))}`);
}

/** Months from one to another, over the turn of the year where they run so; in calendar order. */
export function monthsBetween(first: number, last: number): number[] {
  const count = ((last - first + 12) % 12) + 1;
  return Array.from({ length: count }, (_, step) => ((first - 1 + step) % 12) + 1).sort((a, b) => a - b);
}
