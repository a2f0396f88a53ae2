import {
  buildInterval,
  countDaysInMonth,
  type DateInterval,
  type DateMoment,
  findDateOfDay,
  parseIsoDate,
} from '@/lib/places/iso-dates';
import { findMonth } from '@/lib/places/month-names';
import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import { say } from '@/lib/platform/words/say';

export interface ParsedDate extends DateInterval {
  verbatim: string;
  /** "ca." or the like was written. */
  approximate: boolean;
}

export interface DateOptions {
  /** How the source writes all-number dates; without it those that can be read two ways are refused. */
  order?: 'day-first' | 'month-first';
}

interface PartialDate {
  year: number | null;
  month: number | null;
  day: number | null;
}

const WEEKDAY = /\b(?:mon|tues?|wed(?:nes)?|thur?s?|fri|sat(?:ur)?|sun)(?:day)?\b[.,]?\s*/gi;
const ABOUT = /^(?:ca?\.?|circa|about|approx\.?|around|~)\s*/i;
const TIME = /[ ,T]+(\d{1,2})[:.h](\d{2})(?::(\d{2}))?\s*([ap])?\.?m?\.?$/i;
const UNKNOWN_DAY = /^(?:x+|\?+|-+|0{1,2})[\s.,/-]+(?=\p{L})/iu;
const [FIRST_YEAR, LAST_YEAR] = [1500, 2199];

/**
 * Reads a date as people write it: ISO, with month names in several languages or Roman numerals, day ranges,
 * months, years, decades. Days and months that can be swapped, years without their century and seasons are
 * refused, with the readings where there are some.
 */
export function parseDate(verbatim: string, options: DateOptions = {}): Outcome<ParsedDate> {
  const trimmed = verbatim.replace(/[–—−]/g, '-').replace(/\s+/g, ' ').trim();
  if (trimmed === '') return refuse('empty', say('No date was given.'));
  const text = trimmed.replace(ABOUT, '').replace(WEEKDAY, '').trim();
  const approximate = ABOUT.test(trimmed);
  const finish = (found: Outcome<DateInterval>): Outcome<ParsedDate> => {
    if (!found.ok) return found;
    const { startOn, endOn } = found.value;
    if (startOn < `${FIRST_YEAR}` || endOn > `${LAST_YEAR}-12-31`) {
      return refuse(
        'out-of-range',
        say('Years run from {firstYear} to {lastYear} here.', {
          firstYear: FIRST_YEAR,
          lastYear: LAST_YEAR,
        }),
      );
    }
    return accept({ ...found.value, verbatim, approximate });
  };
  const iso = parseIsoDate(text);
  if (iso.ok) return finish(iso);
  const decade = /^(\d{3})0'?s$/.exec(text);
  if (decade) return finish(parseIsoDate(`${decade[1]}0-01-01/${decade[1]}9-12-31`));
  const single = readSingle(text, options);
  if (single.ok || single.code === 'ambiguous') return finish(single);
  const range = readRange(text, options);
  if (range) return finish(range);
  return single;
}

function readSingle(text: string, options: DateOptions): Outcome<DateInterval> {
  const time = TIME.exec(text);
  const date = readPartial(time ? text.slice(0, time.index) : text, options);
  if (!date.ok) return date;
  const { year, month, day } = date.value;
  if (year === null) return refuse('incomplete', say('The year is missing.'));
  const moment = toMoment({ year, month, day });
  if (!time) return accept(buildInterval(moment, moment));
  const [, hourText, minuteText, secondText, half] = time;
  const hour = Number(hourText) + (half?.toLowerCase() === 'p' && Number(hourText) < 12 ? 12 : 0);
  const midnight = half?.toLowerCase() === 'a' && hour === 12 ? 0 : hour;
  if (day === null || midnight > 23 || Number(minuteText) > 59)
    return refuse('unreadable', say('The time of day cannot be read.'));
  const second = secondText === undefined ? null : Number(secondText);
  const clocked = { ...moment, hour: midnight, minute: Number(minuteText), second };
  return accept(buildInterval(clocked, clocked));
}

function toMoment({ year, month, day }: PartialDate): DateMoment {
  return { year: year ?? 0, month, day, hour: null, minute: null, second: null, offsetMinutes: null };
}

/** A date of which the year, or month and year, may be missing; it then takes them from the end of its range. */
function readPartial(text: string, options: DateOptions): Outcome<PartialDate> {
  const unknownDay = UNKNOWN_DAY.test(text);
  const items: { number: number | null; digits: number; month: number | null }[] = [];
  const rest = text.replace(UNKNOWN_DAY, '').replace(/[年月日]/g, ' ');
  const pattern = /(\d+)(?:st|nd|rd|th|er|º|°|\.)?(?![\p{L}\d])|(\p{L}+)\.?|[\s.,/_-]|(.)/giu;
  for (const [, digits, word, unknown] of rest.matchAll(pattern)) {
    if (digits) items.push({ number: Number(digits), digits: digits.length, month: null });
    if (word && !/^(?:of|de|del|den|der|le)$/i.test(word)) {
      const month = findMonth(word);
      if (month === null)
        return refuse('unreadable', say('"{word}" is no month; give days, months or years.', { word }));
      items.push({ number: null, digits: 0, month });
    }
    if (unknown) return refuse('unreadable', say('"{unknown}" does not belong in a date.', { unknown }));
  }
  const named = items.filter((item) => item.month !== null);
  const numbers = items.filter((item) => item.number !== null);
  const years = numbers.filter((item) => item.digits === 4);
  if (named.length > 1 || years.length > 1) return refuse('unreadable', say('More than one date.'));
  const year = years[0]?.number ?? null;
  const small = numbers.filter((item) => item.digits <= 2).map((item) => item.number ?? 0);
  if (small.length + years.length !== numbers.length)
    return refuse('unreadable', say('A number in it is no day and no year.'));
  if (named[0]) return withNamedMonth(named[0].month ?? 0, small, year, unknownDay);
  const yearFirst = numbers[0]?.digits === 4;
  return withNumbersOnly(small, year, yearFirst, options);
}

function withNamedMonth(
  month: number,
  small: number[],
  year: number | null,
  unknownDay: boolean,
): Outcome<PartialDate> {
  if (small.length > 1) {
    return year === null
      ? refuse('ambiguous', say('The year needs its century.'))
      : refuse('unreadable', say('More than one day.'));
  }
  const day = unknownDay ? null : (small[0] ?? null);
  return checkDay({ year, month, day });
}

function checkDay(date: PartialDate): Outcome<PartialDate> {
  // A leap year stands in where the year is still to come from the end of the range.
  const days = date.month === null ? 31 : countDaysInMonth(date.year ?? 2000, date.month);
  if (date.month !== null && (date.month < 1 || date.month > 12))
    return refuse('out-of-range', say('There is no such month.'));
  return date.day !== null && (date.day < 1 || date.day > days)
    ? refuse('out-of-range', say('The month has no such day.'))
    : accept(date);
}

function withNumbersOnly(
  small: number[],
  year: number | null,
  yearFirst: boolean,
  options: DateOptions,
): Outcome<PartialDate> {
  const [first, second, ...more] = small;
  if (first === undefined) {
    return year === null
      ? refuse('incomplete', say('There is no date in it.'))
      : accept({ year, month: null, day: null });
  }
  if (more.length > 0) return refuse('ambiguous', say('The year needs its century.'));
  if (second === undefined)
    return checkDay(year === null ? { year, month: null, day: first } : { year, month: first, day: null });
  if (year === null) return refuse('incomplete', say('The year is missing.'));
  const dayFirst = checkDay({ year, month: second, day: first });
  const monthFirst = checkDay({ year, month: first, day: second });
  if (yearFirst) return monthFirst.ok ? monthFirst : dayFirst;
  if (options.order === 'day-first') return dayFirst;
  if (options.order === 'month-first') return monthFirst;
  if (!dayFirst.ok || !monthFirst.ok || first === second) return dayFirst.ok ? dayFirst : monthFirst;
  const readings = [dayFirst.value, monthFirst.value].map(
    (date) => buildInterval(toMoment(date), toMoment(date)).iso,
  );
  return refuse('ambiguous', say('Day and month can be swapped; say which comes first.'), readings);
}

/** Two ends divided by a word, a dash or a slash; null when no place to divide gives two dates. */
function readRange(text: string, options: DateOptions): Outcome<DateInterval> | null {
  const monthLeads = /^(\p{L}+)\.? (\d{1,2}) ?(?:-|to|and) ?(\d{1,2}),? (\d{4})$/iu.exec(text);
  const plain = (
    monthLeads ? `${monthLeads[2]}-${monthLeads[3]} ${monthLeads[1]} ${monthLeads[4]}` : text
  ).replace(/^(?:between|from|zwischen|vom|von|entre) /i, '');
  const words = [...plain.matchAll(/ (?:to|and|until|till|through|bis|und|-|&) | ?- | -(?=\d)/gi)];
  const tight = [...plain.matchAll(/[-/]/g)];
  for (const divider of [...words, ...tight]) {
    const end = readPartial(plain.slice(divider.index + divider[0].length), options);
    const start = readPartial(plain.slice(0, divider.index), options);
    if ([start, end].some((half) => !half.ok && half.code === 'ambiguous')) {
      return refuse(
        'ambiguous',
        say('Day and month, or the century, are not sure in the range; write the months as words.'),
      );
    }
    if (!start.ok || !end.ok || end.value.year === null) continue;
    const filled = fillStart(start.value, end.value);
    if (!filled.ok) continue;
    const interval = buildInterval(toMoment(filled.value), toMoment(end.value));
    return interval.startOn <= interval.endOn
      ? accept(interval)
      : refuse('unreadable', say('The range ends before it begins.'));
  }
  return null;
}

function fillStart(start: PartialDate, end: PartialDate): Outcome<PartialDate> {
  const month = start.month ?? (start.day !== null ? end.month : null);
  return checkDay({ year: start.year ?? end.year, month, day: start.day });
}

/** The date that separate year, month and day give; what follows a gap is left out. Null for impossible parts. */
export function buildDateFromParts(year: number, month: number | null, day: number | null): string | null {
  if (!Number.isInteger(year) || year < 1 || year > 9999) return null;
  const text = [String(year).padStart(4, '0')];
  if (month !== null) text.push(String(month).padStart(2, '0'));
  if (month !== null && day !== null) text.push(String(day).padStart(2, '0'));
  const parsed = parseIsoDate(text.join('-'));
  return parsed.ok ? parsed.value.iso : null;
}

/** The interval between two days of one year; null when the year has no such days or they run backwards. */
export function buildDateFromDays(year: number, startDayOfYear: number, endDayOfYear: number): string | null {
  const [start, end] = [findDateOfDay(year, startDayOfYear), findDateOfDay(year, endDayOfYear)];
  if (!start || !end || start > end) return null;
  return start === end ? start : `${start}/${end}`;
}
