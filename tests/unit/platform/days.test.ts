import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  assessStay,
  daysBetween,
  dueOnAfter,
  expectedDaysSchema,
  givenDay,
} from '@/lib/platform/days';

const stay = (enteredOn: string, today: string, expected: { min: number; max: number }) =>
  assessStay({ enteredOn, dueOn: dueOnAfter(enteredOn, expected), minDays: expected.min }, today);

describe('calendar days', () => {
  it.each([
    ['2028-02-28', 1, '2028-02-29'],
    ['2026-12-31', 1, '2027-01-01'],
    ['2026-03-01', -1, '2026-02-28'],
  ])('%s and %i days: %s', (day, days, then) => {
    expect(addDays(day, days)).toBe(then);
    expect(daysBetween(day, then)).toBe(days);
  });

  it('are undone by counting back', () => {
    const days = fc.integer({ min: -40_000, max: 40_000 });
    fc.assert(
      fc.property(days, days, (start, count) => {
        const day = addDays('2000-01-01', start);
        expect(daysBetween(day, addDays(day, count))).toBe(count);
      }),
    );
  });

  it('refuse what is no day', () => {
    for (const text of ['soon', '2026-13-01', '2026-3-1', '']) {
      expect(() => addDays(text, 1)).toThrow(RangeError);
    }
  });
});

describe('a stay', () => {
  it.each([
    ['2026-03-01', '2026-03-01', 'too-early', 0, '2026-03-15'],
    ['2026-03-01', '2026-03-03', 'on-time', 0, '2026-03-15'],
    ['2026-03-01', '2026-03-15', 'on-time', 0, '2026-03-15'],
    ['2026-03-01', '2026-03-16', 'overdue', 1, '2026-03-15'],
    ['2028-02-20', '2028-03-07', 'overdue', 2, '2028-03-05'],
    ['2026-12-25', '2027-01-09', 'overdue', 1, '2027-01-08'],
  ])('entered %s, seen %s: %s', (entered, today, status, overdueDays, dueOn) => {
    expect(stay(entered, today, { min: 2, max: 14 })).toMatchObject({ status, overdueDays, dueOn });
  });

  it('that begins tomorrow counts as begun today; where nothing is due nothing is late', () => {
    expect(stay('2026-03-02', '2026-03-01', { min: 0, max: 1 })).toMatchObject({
      daysIn: 0,
      status: 'on-time',
    });
    expect(assessStay({ enteredOn: '2001-01-01', dueOn: null, minDays: 5 }, '2026-03-01')).toMatchObject({
      status: 'on-time',
      overdueDays: 0,
    });
    expect(() => stay('soon', '2026-03-01', { min: 0, max: 1 })).toThrow(RangeError);
  });

  it('is late exactly after the due day', () => {
    fc.assert(
      fc.property(fc.nat(2000), fc.nat(400), fc.nat(60), (start, length, max) => {
        const entered = addDays('2026-01-01', start);
        const today = addDays(entered, length);
        const progress = stay(entered, today, { min: 0, max });
        expect(progress.status === 'overdue').toBe(today > (progress.dueOn ?? today));
        expect(progress.overdueDays).toBe(Math.max(0, length - max));
      }),
    );
  });

  it('has a shortest time that is not the longer one', () => {
    expect(expectedDaysSchema.safeParse({ min: 3, max: 1 }).success).toBe(false);
  });
});

describe('a day that somebody gives', () => {
  it.each(['1600-01-01', '2028-02-29', '2999-12-31'])('%s is one', (day) => {
    expect(givenDay().parse(day)).toBe(day);
  });

  it.each([
    ['2027-02-29', 'Write a date'],
    ['0001-01-01', 'Give a day between'],
    ['1599-12-31', 'Give a day between'],
    ['3000-01-01', 'Give a day between'],
    ['9999-12-31', 'Give a day between'],
    ['10000-01-01', 'Write a date'],
  ])('%s is none: %s', (day, said) => {
    expect(givenDay().safeParse(day).error?.issues[0]?.message).toContain(said);
  });
});
