import type { DayRange } from './cleaning';

/** How a material stands in the step it is in. Dates are calendar days 'YYYY-MM-DD'. */
export interface StepProgress {
  daysIn: number;
  /** The day its longest expected time is up. */
  dueOn: string;
  status: 'too-early' | 'on-time' | 'overdue';
  /** Full days past `dueOn`; 0 unless overdue. */
  overdueDays: number;
}

const DAY_MS = 86_400_000;
const dayNumber = (day: string): number => {
  const at = Date.parse(`${day}T00:00:00Z`);
  if (Number.isNaN(at)) throw new RangeError(`Not a calendar day: ${day}`);
  return at / DAY_MS;
};

/** Days in the step, when it is due and by how much it is late. A step entered in the future counts as day 0. */
export function assessStep(enteredOn: string, today: string, expected: DayRange): StepProgress {
  const entered = dayNumber(enteredOn);
  const daysIn = Math.max(0, dayNumber(today) - entered);
  const longest = Math.ceil(expected.max);
  const overdueDays = Math.max(0, daysIn - longest);
  const dueOn = new Date((entered + longest) * DAY_MS).toISOString().slice(0, 10);
  if (overdueDays > 0) return { daysIn, dueOn, status: 'overdue', overdueDays };
  return { daysIn, dueOn, status: daysIn < expected.min ? 'too-early' : 'on-time', overdueDays };
}
