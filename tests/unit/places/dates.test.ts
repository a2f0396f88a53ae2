import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildDateFromDays, buildDateFromParts, parseDate } from '@/lib/places/dates';
import { findDateOfDay, findDayOfYear, parseIsoDate } from '@/lib/places/iso-dates';

describe('dates as written', () => {
  it.each([
    ['between 3 and 5 March 2021', '2021-03-03/2021-03-05'],
    ['3–5 March 2021', '2021-03-03/2021-03-05'],
    ['March 3-5, 2021', '2021-03-03/2021-03-05'],
    ['March 3 - April 5, 2021', '2021-03-03/2021-04-05'],
    ['28 Feb - 3 Mar 2021', '2021-02-28/2021-03-03'],
    ['Dec 28 2020 - Jan 3 2021', '2020-12-28/2021-01-03'],
    ['from March to May 2021', '2021-03/2021-05'],
    ['2021-03-05 to 2021-03-08', '2021-03-05/2021-03-08'],
    ['1990-1992', '1990/1992'],
    ['ca. 1987', '1987'],
    ['10/1932', '1932-10'],
    ['04/04/2020', '2020-04-04'],
    ['00 Mar 2021', '2021-03'],
    ['Mon, 5 Mar 2021', '2021-03-05'],
    ['5. März 2021', '2021-03-05'],
    ['2021-03-05 14:30', '2021-03-05T14:30'],
    ['5 March 2021 2:30 pm', '2021-03-05T14:30'],
    ['5 March 2021 12:05 am', '2021-03-05T00:05'],
  ])('%s is %s', (written, iso) => {
    const parsed = parseDate(written);
    if (!parsed.ok) throw new Error(parsed.message);
    expect(parsed.value.iso).toBe(iso);
    expect(parsed.value.verbatim).toBe(written);
  });

  it.each([
    ['', 'empty'],
    ['5 Mar 21', 'ambiguous'],
    ['21-10-28', 'ambiguous'],
    ['1/2/2021 - 3/2/2021', 'ambiguous'],
    ['March 5', 'incomplete'],
    ['10-28', 'incomplete'],
    ['29 Feb 2021', 'out-of-range'],
    ['32 March 2021', 'out-of-range'],
    ['13/14/2020', 'out-of-range'],
    ['spring 1987', 'unreadable'],
    ['before 5 March 2021', 'unreadable'],
    ['5 - 3 March 2021', 'unreadable'],
  ])('refuses "%s" as %s', (written, code) => {
    const parsed = parseDate(written);
    expect(parsed.ok ? parsed.value.iso : parsed.code).toBe(code);
  });

  it('shows the two readings of a date that can be swapped, and takes the order it is told', () => {
    expect(parseDate('03/04/2020')).toMatchObject({ readings: ['2020-04-03', '2020-03-04'] });
    expect(parseDate('03/04/2020', { order: 'day-first' })).toMatchObject({ value: { iso: '2020-04-03' } });
    expect(parseDate('03/04/2020', { order: 'month-first' })).toMatchObject({ value: { iso: '2020-03-04' } });
  });

  it('includes both ends', () => {
    const parsed = parseDate('3-5 March 2021');
    expect(parsed).toMatchObject({
      value: { startOn: '2021-03-03', endOn: '2021-03-05', precision: 'interval' },
    });
    expect(parseDate('Feb 2020')).toMatchObject({
      value: { startOn: '2020-02-01', endOn: '2020-02-29', precision: 'month' },
    });
  });

  it('reads every ISO day it can write', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1500, max: 2199 }), fc.integer({ min: 1, max: 366 }), (year, day) => {
        const date = findDateOfDay(year, day);
        if (date === null) return;
        expect(findDayOfYear(date)).toBe(day);
        expect(parseDate(date)).toMatchObject({ value: { iso: date, startOn: date, endOn: date } });
        expect(new Date(`${date}T00:00:00Z`).toISOString().slice(0, 10)).toBe(date);
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });

  it.each(['2007-03/', '2007/..', '2021-06-03T24:00', '2007-05-01/2007-04-01', '2007-1-1', '2007-02-30'])(
    '%s is no ISO date',
    (text) => {
      expect(parseIsoDate(text).ok).toBe(false);
    },
  );

  it('builds dates from separate parts', () => {
    expect(buildDateFromParts(2024, 2, 30)).toBeNull();
    expect(buildDateFromParts(2021, null, 29)).toBe('2021');
    expect(buildDateFromDays(2021, 5, 15)).toBe('2021-01-05/2021-01-15');
    expect(buildDateFromDays(2021, 366, 366)).toBeNull();
  });
});
