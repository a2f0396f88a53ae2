/** Calendar days as ISO strings 'YYYY-MM-DD'; they compare as text. No clock, no time zone. */

const DAY_MS = 86_400_000;

function toUtcMs(date: string): number {
  return Date.parse(`${date}T00:00:00Z`);
}

function fromUtcMs(ms: number): string {
  return new Date(ms).toISOString().slice(0, 10);
}

/** Is this text a day that exists ('2025-02-29' is not)? */
export function isCalendarDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const ms = toUtcMs(text);
  return !Number.isNaN(ms) && fromUtcMs(ms) === text;
}

/** The day so many days later (earlier, if negative). */
export function addDays(date: string, days: number): string {
  return fromUtcMs(toUtcMs(date) + days * DAY_MS);
}

/** Calendar days from one day to another; negative when the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((toUtcMs(to) - toUtcMs(from)) / DAY_MS);
}

/** The same day so many years later; 29 February becomes 28 February in a common year. */
export function addYears(date: string, years: number): string {
  const moved = `${String(Number(date.slice(0, 4)) + years).padStart(4, '0')}${date.slice(4)}`;
  return isCalendarDay(moved) ? moved : addDays(`${moved.slice(0, 8)}28`, 0);
}

/** The month and day ('MM-DD') in that year; '02-29' becomes 28 February in a common year. */
export function dayInYear(year: number, monthDay: string): string {
  const date = `${String(year).padStart(4, '0')}-${monthDay}`;
  return isCalendarDay(date) ? date : `${date.slice(0, 8)}28`;
}

export type DayRange = { earliestOn: string; latestOn: string };

/**
 * Where a range of possible days lies against a period (both ends inclusive; null is open).
 * 'inside' only when every possible day is in the period.
 */
export function placeRange(
  range: DayRange,
  from: string | null,
  until: string | null,
): 'inside' | 'before' | 'after' | 'straddles' {
  if (from !== null && range.latestOn < from) return 'before';
  if (until !== null && range.earliestOn > until) return 'after';
  const startsInside = from === null || range.earliestOn >= from;
  const endsInside = until === null || range.latestOn <= until;
  return startsInside && endsInside ? 'inside' : 'straddles';
}
