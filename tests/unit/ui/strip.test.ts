import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HEAVIER, layOutStrip, placeOn, sayAgainst } from '@/components/ui/strip';

const others = [104, 110, 112, 118, 128];

describe('sayAgainst', () => {
  test.each([
    [131, 'Wing 131 mm: longer than all 5 female robins here (104–128)'],
    [99.5, 'Wing 99.5 mm: shorter than all 5 female robins here (104–128)'],
    [112, 'Wing 112 mm: longer than 2 of 5 female robins here (104–128)'],
    [128, 'Wing 128 mm: longer than 4 of 5 female robins here (104–128)'],
  ])('%s', (value, words) =>
    expect(sayAgainst({ name: 'Wing', value, unit: 'mm', others, group: 'female robins here' })).toBe(words),
  );

  test('has other words for mass, and says when there is nothing to compare with', () => {
    const mass = { name: 'Mass', value: 21, unit: 'g', group: 'robins here', comparison: HEAVIER };
    expect(sayAgainst({ ...mass, others: [17, 19] })).toBe(
      'Mass 21 g: heavier than all 2 robins here (17–19)',
    );
    expect(sayAgainst({ ...mass, others: [] })).toBe('Mass 21 g: no robins here to compare with');
  });
});

describe('layOutStrip', () => {
  const values = fc.array(fc.double({ min: -1000, max: 1000, noNaN: true }), { maxLength: 60 });

  test('every value has one dot, inside the strip, and no two share a place', () => {
    fc.assert(
      fc.property(values, values, (shown, also) => {
        const strip = layOutStrip(shown, also);
        expect(strip.dots.map((dot) => dot.value)).toEqual([...shown].sort((a, b) => a - b));
        for (const dot of strip.dots) {
          expect(dot.xPercent).toBeGreaterThan(0);
          expect(dot.xPercent).toBeLessThan(100);
          expect(dot.level).toBeLessThan(strip.levels);
        }
        for (const value of also) expect(placeOn(strip.domain, value)).toBeLessThan(100);
      }),
    );
  });

  test.each([[[0, 5e-324]], [[999.9999999999999, 1000]]])(
    '%j, no room between them, lies inside',
    (close) => {
      for (const { xPercent } of layOutStrip(close, []).dots) {
        expect(xPercent).toBeGreaterThan(0);
        expect(xPercent).toBeLessThan(100);
      }
    },
  );

  test('equal values are stacked', () => {
    expect(layOutStrip([5, 5, 5], []).dots.map((dot) => dot.level)).toEqual([0, 1, 2]);
  });
});
