import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import * as statistics from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { medianAbsoluteDeviation, modifiedZScore, OUTLIER_THRESHOLD } from '@/lib/bench/plausibility';

describe('median absolute deviation', () => {
  // R, function stats::mad: of 1..9 it is 2 with constant = 1 and 2.9652 with its default constant 1.4826.
  it('of 1 to 9 is 2 unscaled, 2.9652 scaled', () => {
    const deviation = medianAbsoluteDeviation([1, 2, 3, 4, 5, 6, 7, 8, 9]) ?? Number.NaN;
    expect(deviation).toBe(2);
    expect(deviation * 1.4826).toBeCloseTo(2.9652, 10);
  });

  // Same source: one wild value does not move it.
  it('of 1 to 8 and 100 is 2', () => {
    expect(medianAbsoluteDeviation([1, 2, 3, 4, 5, 6, 7, 8, 100])).toBe(2);
  });

  it('agrees with simple-statistics on any list', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 60 }),
        (list) => {
          expect(medianAbsoluteDeviation(list)).toBeCloseTo(statistics.medianAbsoluteDeviation(list), 6);
        },
      ),
    );
  });
});

describe('modified z-score (Iglewicz & Hoaglin 1993)', () => {
  // Worked example as published with the method: only 300 lies beyond 3.5.
  const list = [10, 12, 12, 13, 12, 11, 14, 300];
  const expected = [-1.349, 0, 0, 0.6745, 0, -0.6745, 1.349, 194.256];

  it.each(list.map((value, at) => [value, expected[at] ?? 0] as const))('of %d is %d', (value, score) => {
    expect(modifiedZScore(value, list)).toBeCloseTo(score, 4);
  });

  it('marks 300 alone', () => {
    expect(list.filter((value) => Math.abs(modifiedZScore(value, list) ?? 0) > OUTLIER_THRESHOLD)).toEqual([
      300,
    ]);
  });

  it('agrees with the formula over simple-statistics', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1000, max: 1000, noNaN: true }),
        fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 1, maxLength: 40 }),
        (value, others) => {
          const deviation = statistics.medianAbsoluteDeviation(others);
          const score = modifiedZScore(value, others);
          if (deviation === 0) expect(score).toBeNull();
          else expect(score).toBeCloseTo((0.6745 * (value - statistics.median(others))) / deviation, 6);
        },
      ),
    );
  });
});

interface Penguin {
  Species: string;
  Sex: string | null;
  [measure: string]: string | number | null;
}

// Palmer penguins (Gorman, Williams & Fraser 2014; CC0) as shipped by vega-datasets: 344 birds.
const data = fileURLToPath(new URL('../../node_modules/vega-datasets/data/penguins.json', import.meta.url));
const penguins = JSON.parse(readFileSync(data, 'utf8')) as Penguin[];
const MEASURES = ['Beak Length (mm)', 'Beak Depth (mm)', 'Flipper Length (mm)', 'Body Mass (g)'];

function flagPenguins(): (readonly [string, string, string, number, string])[] {
  const sexed = penguins.filter(({ Sex }) => Sex === 'MALE' || Sex === 'FEMALE');
  return sexed.flatMap((bird) =>
    MEASURES.flatMap((measure) => {
      const value = bird[measure];
      const group = sexed.filter((other) => other.Species === bird.Species && other.Sex === bird.Sex);
      const values = group.map((other) => other[measure]).filter((other) => typeof other === 'number');
      const score = typeof value === 'number' ? modifiedZScore(value, values) : null;
      return typeof value === 'number' && score !== null && Math.abs(score) > OUTLIER_THRESHOLD
        ? [[bird.Species, `${bird.Sex}`, measure, value, score.toFixed(3)] as const]
        : [];
    }),
  );
}

describe('Palmer penguins, by species and known sex', () => {
  it('are 344 birds', () => expect(penguins).toHaveLength(344));

  // Data read from the data set; the flags were computed once from it, independently of this code.
  it('have exactly these five values beyond 3.5', () => {
    const flags = flagPenguins().sort((a, b) => `${a[0]}${a[3]}`.localeCompare(`${b[0]}${b[3]}`));
    expect(flags).toEqual([
      ['Adelie', 'FEMALE', 'Flipper Length (mm)', 172, '-3.597'],
      ['Chinstrap', 'FEMALE', 'Body Mass (g)', 2700, '-3.822'],
      ['Chinstrap', 'FEMALE', 'Beak Length (mm)', 40.9, '-3.642'],
      ['Chinstrap', 'FEMALE', 'Beak Length (mm)', 58, '7.892'],
      ['Gentoo', 'MALE', 'Beak Length (mm)', 59.6, '5.240'],
    ]);
  });
});
