import { describe, expect, test } from 'vitest';
import { dayOfInstant, isDay, sayDay, sayDays, sayTime } from '@/lib/platform/say-dates';

describe('days as words', () => {
  test.each([
    ['2026-03-05', '5 Mar 2026'],
    ['2024-12-31', '31 Dec 2024'],
    ['2026-13-01', '2026-13-01'],
    ['spring 1931', 'spring 1931'],
  ])('%s reads %s', (day, words) => expect(sayDay(day)).toBe(words));

  test.each([
    ['2026-03-03', '2026-03-05', '3–5 Mar 2026'],
    ['2026-02-28', '2026-03-02', '28 Feb – 2 Mar 2026'],
    ['2025-12-30', '2026-01-02', '30 Dec 2025 – 2 Jan 2026'],
    ['2026-03-03', '2026-03-03', '3 Mar 2026'],
  ])('%s to %s reads %s', (from, to, words) => expect(sayDays(from, to)).toBe(words));

  test('an instant has a day and a time in UTC, whatever the machine thinks', () => {
    expect(dayOfInstant('2026-03-05T23:59:30-02:00', 'utc')).toBe('2026-03-06');
    expect(sayTime('2026-03-05T23:59:30-02:00', 'utc')).toBe('01:59 UTC');
  });

  test('a day is no instant', () => {
    expect(isDay('2026-03-05')).toBe(true);
    expect(isDay('2026-03-05T00:00:00Z')).toBe(false);
  });
});
