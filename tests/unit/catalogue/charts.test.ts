import { describe, expect, it } from 'vitest';
import { countSexes, estimateShare, listYears, OTHERS, shapeCross } from '@/lib/catalogue/rules/charts';
import { AGE_UNKNOWN, countAges, followBacklog, listMonths } from '@/lib/catalogue/rules/numbers';

describe('counts of one thing under another', () => {
  const counts = [
    { key: 4, series: 'cat', count: 2 },
    { key: 4, series: 'window-strike', count: 5 },
    { key: 5, series: 'cat', count: 1 },
    { key: null, series: 'cat', count: 3 },
  ];
  it('rows stand in the order of the keys, empty ones too; the commonest series first', () => {
    expect(shapeCross(counts, [3, 4, 5])).toEqual({
      series: ['window-strike', 'cat'],
      rows: [
        { key: 3, counts: [0, 0] },
        { key: 4, counts: [5, 2] },
        { key: 5, counts: [0, 1] },
      ],
      unknown: 3,
    });
  });
  it('a key that is not listed is not known', () => {
    expect(shapeCross(counts, [5])).toEqual({
      series: ['cat'],
      rows: [{ key: 5, counts: [1] }],
      unknown: 10,
    });
  });
  it('the rarest are put together where there are too many', () => {
    const many = 'abcdefg'.split('').map((series, at) => ({ key: 1, series, count: 10 - at }));
    const { series, rows } = shapeCross(many, [1], { most: 3 });
    expect(series).toEqual(['a', 'b', OTHERS]);
    expect(rows).toEqual([{ key: 1, counts: [10, 9, 8 + 7 + 6 + 5 + 4] }]);
  });
  it('fixed series stand in their order, even with nothing in them', () => {
    const { series, rows } = shapeCross([{ key: 2024, series: 'male', count: 1 }], [2024], {
      fixed: ['female', 'male', 'undetermined'],
    });
    expect(series).toEqual(['female', 'male', 'undetermined']);
    expect(rows).toEqual([{ key: 2024, counts: [0, 1, 0] }]);
  });
});

it.each([
  [[], []],
  [[null], []],
  [[2024], [2024]],
  [
    [2024, null, 2021],
    [2021, 2022, 2023, 2024],
  ],
])('years of %j', (years, expected) => {
  expect(listYears(years)).toEqual(expected);
});

describe('a share with its interval', () => {
  // Score intervals without continuity correction, as R's prop.test(x, n, correct = FALSE) gives them: from memory.
  it.each([
    [5, 10, 0.2366, 0.7634],
    [0, 10, 0, 0.2775],
    [10, 10, 0.7225, 1],
    [1, 1, 0.2065, 1],
  ])('%i of %i', (hits, of, low, high) => {
    const found = estimateShare(hits, of);
    expect(found?.share).toBe(hits / of);
    expect(found?.low).toBeCloseTo(low, 4);
    expect(found?.high).toBeCloseTo(high, 4);
  });
  it('of nothing there is none', () => expect(estimateShare(0, 0)).toBeNull());
  it('counts the sexed only', () => {
    const sexes = countSexes([
      { series: 'female', count: 2 },
      { series: 'female', count: 1 },
      { series: 'male', count: 1 },
      { series: 'undetermined', count: 6 },
    ]);
    expect(sexes).toMatchObject({ female: 3, male: 1, undetermined: 6, femaleShare: { share: 0.75 } });
  });
});

describe('ages in the freezer', () => {
  it.each([
    ['2026-06-30', 'under 3 months'],
    ['2026-04-01', 'under 3 months'],
    ['2026-03-31', '3–6 months'],
    ['2025-06-30', '1–2 years'],
    ['2024-06-30', '1–2 years'],
    ['2024-06-29', '2–5 years'],
    ['2019-01-01', '5 years and more'],
    [null, AGE_UNKNOWN],
  ])('since %s: %s', (day, expected) => {
    const found = countAges([day], '2026-06-30').filter(({ count }) => count > 0);
    expect(found).toEqual([{ age: expected, count: 1 }]);
  });
  it('shows every class, and the unknown only where there are some', () => {
    expect(countAges([], '2026-06-30').map(({ age }) => age)).toEqual([
      'under 3 months',
      '3–6 months',
      '6–12 months',
      '1–2 years',
      '2–5 years',
      '5 years and more',
    ]);
  });
});

it.each([
  ['2025-11-01', '2026-02-28', ['2025-11', '2025-12', '2026-01', '2026-02']],
  ['2026-02-28', '2026-02-28', ['2026-02']],
  ['2026-03-01', '2026-02-28', []],
])('months from %s to %s', (from, until, expected) => {
  expect(listMonths(from, until)).toEqual(expected);
});

describe('the backlog, month by month', () => {
  it('carries over what came before and waits still', () => {
    const stays = [
      { cameIn: '2025-01', leftIn: null, count: 2 },
      { cameIn: '2025-01', leftIn: '2026-02', count: 3 },
      { cameIn: '2026-02', leftIn: '2026-02', count: 1 },
      { cameIn: '2026-03', leftIn: null, count: 4 },
      // Written down as prepared before it came: leaves when it comes.
      { cameIn: '2026-03', leftIn: '2026-01', count: 1 },
    ];
    expect(followBacklog(stays, ['2026-01', '2026-02', '2026-03'])).toEqual([
      { month: '2026-01', received: 0, left: 0, waiting: 5 },
      { month: '2026-02', received: 1, left: 4, waiting: 2 },
      { month: '2026-03', received: 5, left: 1, waiting: 6 },
    ]);
  });
});
