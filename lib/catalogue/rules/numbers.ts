import { phrases } from '@/lib/platform/words/say';

/** Ages in the freezer: below so many days; the last has no end. */
const AGE_CLASSES = phrases([
  { age: 'under 3 months', days: 91 },
  { age: '3–6 months', days: 183 },
  { age: '6–12 months', days: 365 },
  { age: '1–2 years', days: 731 },
  { age: '2–5 years', days: 1826 },
  { age: '5 years and more', days: Number.POSITIVE_INFINITY },
] as const);
export const AGE_UNKNOWN = 'day not known';

const DAY_MS = 86_400_000;
const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;

/** Birds by how long they have lain in the freezer on a day; null: nobody wrote down since when. */
export function countAges(frozenOn: readonly (string | null)[], today: string) {
  const classes: { age: string; count: number }[] = AGE_CLASSES.map(({ age }) => ({ age, count: 0 }));
  let unknown = 0;
  for (const day of frozenOn) {
    const age = day === null ? Number.NaN : dayNumber(today) - dayNumber(day);
    const found = classes[AGE_CLASSES.findIndex(({ days }) => age < days)];
    if (found === undefined) unknown += 1;
    else found.count += 1;
  }
  return unknown > 0 ? [...classes, { age: AGE_UNKNOWN, count: unknown }] : classes;
}

/** The months from one day's to another's, both included: "2026-03". */
export function listMonths(from: string, until: string): string[] {
  const months: string[] = [];
  let [year = 0, month = 1] = from.split('-').map(Number);
  const last = until.slice(0, 7);
  for (;;) {
    const text = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;
    if (text > last) return months;
    months.push(text);
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  }
}

/** A bird's time in the backlog, by month: `leftIn` null while it waits. A bird leaves no earlier than it comes. */
export type Stay = { cameIn: string; leftIn: string | null; count: number };

/** How many waited at the end of each month, and how many came and left in it. */
export function followBacklog(stays: readonly Stay[], months: readonly string[]) {
  const leaves = stays.flatMap(({ cameIn, leftIn, count }) =>
    leftIn === null ? [] : [{ month: [cameIn, leftIn].sort().at(-1) ?? leftIn, count }],
  );
  const comes = stays.map(({ cameIn, count }) => ({ month: cameIn, count }));
  const sum = (list: readonly { month: string; count: number }[], fits: (month: string) => boolean) =>
    list.reduce((total, { month, count }) => (fits(month) ? total + count : total), 0);
  return months.map((month) => ({
    month,
    received: sum(comes, (one) => one === month),
    left: sum(leaves, (one) => one === month),
    waiting: sum(comes, (one) => one <= month) - sum(leaves, (one) => one <= month),
  }));
}
