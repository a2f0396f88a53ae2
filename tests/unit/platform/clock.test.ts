import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayIn, middayOf } from '@/lib/platform/clock';
import { addDays } from '@/lib/platform/days';

const ZONES = [
  'UTC',
  'America/Chicago',
  'Pacific/Kiritimati',
  'Pacific/Pago_Pago',
  'Asia/Kathmandu',
  'Pacific/Auckland',
];

describe('the middle of a day', () => {
  it('lies in that day, wherever the collection is', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ZONES), fc.nat(20_000), (zone, offset) => {
        const day = addDays('1990-01-01', offset);
        expect(dayIn(zone, middayOf(zone, day))).toBe(day);
      }),
    );
  });

  it('is noon by the clock on the wall', () => {
    expect(middayOf('America/Chicago', '2026-01-15').toISOString()).toBe('2026-01-15T18:00:00.000Z');
    expect(middayOf('America/Chicago', '2026-07-15').toISOString()).toBe('2026-07-15T17:00:00.000Z');
    expect(middayOf('Pacific/Kiritimati', '2026-07-15').toISOString()).toBe('2026-07-14T22:00:00.000Z');
  });
});
