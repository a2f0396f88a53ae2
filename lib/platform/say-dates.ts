import { phrases } from '@/lib/platform/words/say';

/** Dates as words, without the browser's or the server's own month names, so that both write the same. */

export const MONTHS = phrases([
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const);

/** In full, as a word that stands alone. */
export const MONTH_NAMES = phrases([
  'January',
  'February',
  'March',
  'April',
  'May|in full',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]);

const two = (value: number): string => String(value).padStart(2, '0');

type Parts = { year: number; month: number; day: number };

function partsOf(day: string): Parts | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (!match) return null;
  const [, year, month, date] = match.map(Number);
  if (year === undefined || month === undefined || date === undefined || month < 1 || month > 12) return null;
  return { year, month, day: date };
}

/** '2026-03-05' → '5 Mar 2026'. What is no such day comes back as it was written. */
export function sayDay(day: string): string {
  const parts = partsOf(day);
  return parts ? `${parts.day} ${MONTHS[parts.month - 1]} ${parts.year}` : day;
}

/** Two days, both included: '3–5 Mar 2026', '28 Feb – 2 Mar 2026', '30 Dec 2025 – 2 Jan 2026'. */
export function sayDays(from: string, to: string): string {
  const [a, b] = [partsOf(from), partsOf(to)];
  if (!a || !b) return `${from} – ${to}`;
  if (from === to) return sayDay(from);
  if (a.year !== b.year) return `${sayDay(from)} – ${sayDay(to)}`;
  if (a.month !== b.month) return `${a.day} ${MONTHS[a.month - 1]} – ${sayDay(to)}`;
  return `${a.day}–${sayDay(to)}`;
}

/** Where an instant is read: the reader's own clock, or UTC where that is not known (on the server). */
export type Clock = 'here' | 'utc';

/** The calendar day of an instant, '2026-03-05'. */
export function dayOfInstant(at: string, clock: Clock): string {
  const date = new Date(at);
  return clock === 'utc'
    ? date.toISOString().slice(0, 10)
    : `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** The time of day of an instant, '14:20'; in UTC it says so. */
export function sayTime(at: string, clock: Clock): string {
  const date = new Date(at);
  return clock === 'utc'
    ? `${two(date.getUTCHours())}:${two(date.getUTCMinutes())} UTC`
    : `${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** Whether a text is a calendar day and no instant. */
export const isDay = (text: string): boolean => partsOf(text) !== null;
