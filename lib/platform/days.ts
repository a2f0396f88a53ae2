import { z } from 'zod';
import { say } from '@/lib/platform/words/say';

/** Calendar days 'YYYY-MM-DD' and how long something stays; pure, so that rules and screens may use it. */
const DAY_MS = 86_400_000;
const EARLIEST = '1600-01-01';
const LATEST = '2999-12-31';

/**
 * A day that somebody gives: one that exists, in years that a collection can mean and that leave room to reckon with.
 * @param error what is said of anything that is no day.
 */
export const givenDay = (error?: string) =>
  z.iso
    .date({ error: () => error ?? say('Write a date as year-month-day, for example 2026-03-14.') })
    .refine((day) => day >= EARLIEST && day <= LATEST, {
      error: () => say('Give a day between {earliest} and {latest}.', { earliest: EARLIEST, latest: LATEST }),
    });

function dayNumber(day: string): number {
  const at = /^\d{4}-\d{2}-\d{2}$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : Number.NaN;
  if (Number.isNaN(at)) throw new RangeError(`Not a calendar day: ${day}`);
  return at / DAY_MS;
}

/** The day so many days later (earlier where `days` is negative). @throws RangeError for what is no day. */
export const addDays = (day: string, days: number): string =>
  new Date((dayNumber(day) + days) * DAY_MS).toISOString().slice(0, 10);

/** Days from one day to another; negative where `to` is earlier. @throws RangeError for what is no day. */
export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);

/** How long something should take, in days. */
export const expectedDaysSchema = z
  .strictObject({ min: z.number().min(0).max(3650), max: z.number().min(0).max(3650) })
  .refine(({ min, max }) => min <= max, 'The shortest time is longer than the longest.');
export type ExpectedDays = z.infer<typeof expectedDaysSchema>;

/** The day on which the longest expected time of a stay is up. */
export const dueOnAfter = (enteredOn: string, expected: ExpectedDays): string =>
  addDays(enteredOn, Math.ceil(expected.max));

export const STAY_STATUSES = ['too-early', 'on-time', 'overdue'] as const;

/** How something stands in the step or state it is in. */
export interface Stay {
  daysIn: number;
  /** Null where nothing is due. */
  dueOn: string | null;
  status: (typeof STAY_STATUSES)[number];
  /** Full days past `dueOn`; 0 unless overdue. */
  overdueDays: number;
}

/** Days in, when it is due and by how much it is late. What is entered in the future counts as day 0. */
export function assessStay(
  { enteredOn, dueOn, minDays }: { enteredOn: string; dueOn: string | null; minDays: number },
  today: string,
): Stay {
  const daysIn = Math.max(0, daysBetween(enteredOn, today));
  if (dueOn === null) return { daysIn, dueOn, status: 'on-time', overdueDays: 0 };
  const overdueDays = Math.max(0, daysBetween(dueOn, today));
  if (overdueDays > 0) return { daysIn, dueOn, status: 'overdue', overdueDays };
  return { daysIn, dueOn, status: daysIn < minDays ? 'too-early' : 'on-time', overdueDays };
}
