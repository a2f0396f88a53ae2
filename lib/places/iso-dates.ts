import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import { say } from '@/lib/platform/words/say';

/** A stretch of local calendar days, both ends included, with what was known of clock and zone. */
export interface DateInterval {
  /** First and last day, `YYYY-MM-DD`. */
  startOn: string;
  endOn: string;
  precision: 'time' | 'day' | 'month' | 'year' | 'interval';
  /** The form for dwc:eventDate: extended ISO 8601, both ends of an interval written out. */
  iso: string;
  start: DateMoment;
  /** The same as `start` for a single date. */
  end: DateMoment;
}

/** One written end: fields that were not given are null. */
export interface DateMoment {
  year: number;
  month: number | null;
  day: number | null;
  hour: number | null;
  minute: number | null;
  second: number | null;
  /** Minutes east of Greenwich; null when the zone is not said. */
  offsetMinutes: number | null;
}

const DATE = '(\\d{4})(?:-(\\d{2})(?:-(\\d{2}))?|-(\\d{3}))?';
const TIME = '(\\d{2})(?::(\\d{2})(?::(\\d{2})(?:[.,]\\d+)?)?)?(Z|[+-]\\d{2}(?::?\\d{2})?)?';
const MOMENT = new RegExp(`^${DATE}(?:T${TIME})?$`);
const ONLY_TIME = new RegExp(`^T?${TIME}$`);

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

export function countDaysInMonth(year: number, month: number): number {
  return month === 2 ? (isLeapYear(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function pad(value: number, width = 2): string {
  return String(value).padStart(width, '0');
}

/** The day of the year, 1 to 366, of a `YYYY-MM-DD`. */
export function findDayOfYear(date: string): number {
  const [year = 0, month = 1, day = 1] = date.split('-').map(Number);
  let days = day;
  for (let earlier = 1; earlier < month; earlier += 1) days += countDaysInMonth(year, earlier);
  return days;
}

/** The `YYYY-MM-DD` of a day of the year; null when that year has no such day. */
export function findDateOfDay(year: number, dayOfYear: number): string | null {
  if (!Number.isInteger(dayOfYear) || dayOfYear < 1) return null;
  let rest = dayOfYear;
  for (let month = 1; month <= 12; month += 1) {
    const days = countDaysInMonth(year, month);
    if (rest <= days) return `${pad(year, 4)}-${pad(month)}-${pad(rest)}`;
    rest -= days;
  }
  return null;
}

/** Reads an ISO 8601 date, date with time, or interval; the end of an interval is included and may be abbreviated. */
export function parseIsoDate(text: string): Outcome<DateInterval> {
  const written = text.trim();
  if (written === '') return refuse('empty', say('No date was given.'));
  const [first = '', second, ...more] = written.split('/');
  const start = readMoment(first);
  if (!start || more.length > 0) return refuse('unreadable', say('This is no ISO 8601 date.'));
  if (second === undefined) return accept(buildInterval(start, start));
  if (second === '' || second === '..') return refuse('incomplete', say('The interval has no end.'));
  const end = readMoment(completeEnd(first, second));
  if (!end) return refuse('unreadable', say('The end of the interval is no ISO 8601 date.'));
  const interval = buildInterval(start, end);
  const { startMs, endMs } = measureInterval(interval);
  return startMs <= endMs
    ? accept(interval)
    : refuse('unreadable', say('The interval ends before it begins.'));
}

/** "2007-11-13/15": what the end leaves out is taken from the start. */
function completeEnd(first: string, second: string): string {
  if (/^\d{4}(-|$)/.test(second)) return second;
  const day = first.split('T')[0] ?? '';
  if (ONLY_TIME.test(second) && second.includes(':')) return `${day}T${second.replace(/^T/, '')}`;
  const [date = '', time] = second.split('T');
  const kept = day.split('-').slice(0, day.split('-').length - date.split('-').length);
  return kept.length === 0 ? second : [...kept, date].join('-') + (time === undefined ? '' : `T${time}`);
}

function readMoment(text: string): DateMoment | null {
  const basic = /^(\d{4})(\d{2})(\d{2})$/.exec(text);
  const match = MOMENT.exec(basic ? `${basic[1]}-${basic[2]}-${basic[3]}` : text);
  if (!match) return null;
  const [, yearText, monthText, dayText, ordinalText, hourText, minuteText, secondText, zone] = match;
  const year = Number(yearText);
  let month = toNumber(monthText);
  let day = toNumber(dayText);
  if (ordinalText !== undefined) {
    const date = findDateOfDay(year, Number(ordinalText));
    if (!date) return null;
    [, month = null, day = null] = date.split('-').map(Number) as [number, number, number];
  }
  if (month !== null && (month < 1 || month > 12)) return null;
  if (day !== null && (day < 1 || day > countDaysInMonth(year, month ?? 1))) return null;
  if (hourText !== undefined && day === null) return null;
  const [hour, minute, second] = [hourText, minuteText, secondText].map(toNumber);
  if ((hour ?? 0) > 23 || (minute ?? 0) > 59 || (second ?? 0) > 59) return null;
  const offsetMinutes = zone === undefined ? null : readOffset(zone);
  return {
    year,
    month,
    day,
    hour: hour ?? null,
    minute: minute ?? null,
    second: second ?? null,
    offsetMinutes,
  };
}

function toNumber(text: string | undefined): number | null {
  return text === undefined ? null : Number(text);
}

function readOffset(zone: string): number {
  if (zone === 'Z') return 0;
  const [, sign, hours, minutes] = /^([+-])(\d{2}):?(\d{2})?$/.exec(zone) ?? [];
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes ?? 0));
}

/** Puts two ends together; the caller has seen that each is a real date. */
export function buildInterval(start: DateMoment, end: DateMoment): DateInterval {
  const [iso, endIso] = [writeMoment(start), writeMoment(end)];
  const single = iso === endIso;
  const finest =
    start.hour !== null ? 'time' : start.day !== null ? 'day' : start.month !== null ? 'month' : 'year';
  const endMonth = end.month ?? 12;
  return {
    startOn: `${pad(start.year, 4)}-${pad(start.month ?? 1)}-${pad(start.day ?? 1)}`,
    endOn: `${pad(end.year, 4)}-${pad(endMonth)}-${pad(end.day ?? countDaysInMonth(end.year, endMonth))}`,
    precision: single ? finest : 'interval',
    iso: single ? iso : `${iso}/${endIso}`,
    start,
    end,
  };
}

function writeMoment(moment: DateMoment): string {
  let text = pad(moment.year, 4);
  if (moment.month !== null) text += `-${pad(moment.month)}`;
  if (moment.day !== null) text += `-${pad(moment.day)}`;
  if (moment.hour === null) return text;
  text += `T${pad(moment.hour)}`;
  if (moment.minute !== null) text += `:${pad(moment.minute)}`;
  if (moment.second !== null) text += `:${pad(moment.second)}`;
  if (moment.offsetMinutes === null) return text;
  if (moment.offsetMinutes === 0) return `${text}Z`;
  const minutes = Math.abs(moment.offsetMinutes);
  return `${text}${moment.offsetMinutes < 0 ? '-' : '+'}${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
}

/**
 * First instant and the instant after the last, in milliseconds. Local time counts as if it were UTC where no
 * zone was said (`zoneKnown` false). An interval that ends at a clock time ends at that instant; one that ends
 * on a day, month or year includes all of it.
 */
export function measureInterval(interval: DateInterval): {
  startMs: number;
  endMs: number;
  zoneKnown: boolean;
} {
  const { start, end } = interval;
  const exact = interval.precision === 'interval' && end.hour !== null;
  return {
    startMs: toMs(start, 0),
    endMs: toMs(end, exact ? 0 : 1),
    zoneKnown: start.offsetMinutes !== null && end.offsetMinutes !== null,
  };
}

function toMs(moment: DateMoment, past: 0 | 1): number {
  const fields = [
    moment.month === null ? null : moment.month - 1,
    moment.day,
    moment.hour,
    moment.minute,
    moment.second,
  ];
  const given = fields.filter((field) => field !== null).length;
  const numbers = [moment.year, ...fields.map((field, index) => field ?? (index === 1 ? 1 : 0))];
  numbers[given] = (numbers[given] ?? 0) + past;
  const [year = 0, month = 0, day = 1, hour = 0, minute = 0, second = 0] = numbers;
  const instant = new Date(0);
  instant.setUTCFullYear(year, month, day);
  instant.setUTCHours(hour, minute, second);
  return instant.getTime() - (moment.offsetMinutes ?? 0) * 60_000;
}

export interface EventParts {
  year?: number | null;
  month?: number | null;
  day?: number | null;
  startDayOfYear?: number | null;
  endDayOfYear?: number | null;
}

/** The separate date terms of Darwin Core that hold for the whole interval; those that change within it are null. */
export function listEventParts(interval: DateInterval): Required<EventParts> {
  const { start, end } = interval;
  const whole = interval.precision === 'year' || interval.precision === 'month';
  const year = start.year === end.year ? start.year : null;
  const month = year !== null && start.month === end.month ? start.month : null;
  const day = month !== null && start.day === end.day ? start.day : null;
  return {
    year,
    month,
    day,
    startDayOfYear: whole ? null : findDayOfYear(interval.startOn),
    endDayOfYear: whole ? null : findDayOfYear(interval.endOn),
  };
}

/**
 * The given terms that contradict the date: each must hold for the first and for the last day. A day of the year
 * beside a mere month or year claims more than the date does, so it counts as a contradiction.
 */
export function findEventConflicts(interval: DateInterval, parts: EventParts): (keyof EventParts)[] {
  const [startYear = 0, startMonth = 0, startDay = 0] = interval.startOn.split('-').map(Number);
  const [endYear = 0, endMonth = 0, endDay = 0] = interval.endOn.split('-').map(Number);
  const expected: Record<keyof EventParts, [number, number]> = {
    year: [startYear, endYear],
    month: [startMonth, endMonth],
    day: [startDay, endDay],
    startDayOfYear: [findDayOfYear(interval.startOn), findDayOfYear(interval.startOn)],
    endDayOfYear: [findDayOfYear(interval.endOn), findDayOfYear(interval.endOn)],
  };
  return (Object.keys(expected) as (keyof EventParts)[]).filter((part) => {
    const given = parts[part];
    const coarse = interval.precision === 'month' || interval.precision === 'year';
    if (given != null && coarse && part.endsWith('DayOfYear')) return true;
    return given != null && expected[part].some((value) => value !== given);
  });
}
