import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '@/lib/permits/rules/dates';
import { formatDateInterval, parseDateInterval } from '@/lib/salvage/rules/date-interval';

describe('dates as people give them (ISO 8601, both ends inclusive)', () => {
  it.each([
    ['2026-03-03', '2026-03-03', '2026-03-03'],
    ['2026-03-03/2026-03-05', '2026-03-03', '2026-03-05'],
    ['2026-03-03/05', '2026-03-03', '2026-03-05'],
    ['2026-03-30/04-02', '2026-03-30', '2026-04-02'],
    ['2026-03', '2026-03-01', '2026-03-31'],
    ['2024-02', '2024-02-01', '2024-02-29'],
    ['2026-03/04', '2026-03-01', '2026-04-30'],
    ['2026-12', '2026-12-01', '2026-12-31'],
    ['2026', '2026-01-01', '2026-12-31'],
    ['2025/2026', '2025-01-01', '2026-12-31'],
    [' 2026-03-03 / 2026-03-05 ', '2026-03-03', '2026-03-05'],
    // Darwin Core eventDate examples: a day with time, and an interval of instants.
    ['1963-03-08T14:07-0600', '1963-03-08', '1963-03-08'],
    ['2007-03-01T13:00:00Z/2008-05-11T15:30:00Z', '2007-03-01', '2008-05-11'],
    ['2007-11-13/15', '2007-11-13', '2007-11-15'],
  ])('%s', (text, earliestOn, latestOn) => {
    expect(parseDateInterval(text)).toEqual({
      ok: true,
      interval: { earliestOn, latestOn, verbatim: text.trim() },
    });
  });

  it.each([
    ['', /Give a date/],
    // Refused as ambiguous, as in the TDWG data quality test vectors.
    ['03/04/2020', /two ways/],
    ['3.4.2020', /two ways/],
    ['2025-02-29', /exists/],
    ['2025-13', /exists/],
    ['2025-00', /exists/],
    ['2026-03-05/2026-03-03', /ends before/],
    ['2026-03-05/2026-03', /ends before/],
    ['2026-03-05/..', /open at one end/],
    ['/2026-03-05', /open at one end/],
    ['2026/2027/2028', /more than one slash/],
    ['yesterday', /exists/],
  ])('%s is refused with a sentence', (text, message) => {
    const parsed = parseDateInterval(text);
    expect(parsed.ok).toBe(false);
    expect(parsed.ok ? '' : parsed.message).toMatch(message);
  });

  it('whatever is written comes back as the same days', () => {
    const start = fc.integer({ min: 0, max: 60_000 }).map((offset) => addDays('1900-01-01', offset));
    fc.assert(
      fc.property(start, fc.integer({ min: 0, max: 800 }), (earliestOn, length) => {
        const range = { earliestOn, latestOn: addDays(earliestOn, length) };
        expect(parseDateInterval(formatDateInterval(range))).toMatchObject({ ok: true, interval: range });
      }),
    );
  });

  it.each([
    ['2026-03-01', '2026-03-31', '2026-03'],
    ['2026-01-01', '2026-12-31', '2026'],
    ['2026-03-01', '2026-04-30', '2026-03-01/2026-04-30'],
  ])('%s to %s is written %s', (earliestOn, latestOn, text) => {
    expect(formatDateInterval({ earliestOn, latestOn })).toBe(text);
  });

  it('no text, however odd, throws', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(typeof parseDateInterval(text).ok).toBe('boolean');
      }),
    );
  });
});
