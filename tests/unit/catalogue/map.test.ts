import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MAP_STEPS } from '@/lib/catalogue/figures-wire';
import { type Cell, drawCells, drawCounties, mergeCells } from '@/lib/catalogue/rules/map';

const cell = (row: number, col: number, count: number, more: Partial<Cell> = {}): Cell => ({
  row,
  col,
  count,
  coarse: 0,
  latitude: row * 0.1 + 0.05,
  longitude: col * 0.1 + 0.05,
  names: [],
  ...more,
});

describe('cells put together', () => {
  it.each([
    // Row and column of a 0.1° cell, and of the 0.5° and 1° cells that hold it.
    [400, -827, [80, -166], [40, -83]],
    [404, -826, [80, -166], [40, -83]],
    [405, -825, [81, -165], [40, -83]],
    [-1, -1, [-1, -1], [-1, -1]],
    [0, 0, [0, 0], [0, 0]],
  ])('0.1° cell %i, %i', (row, col, half, whole) => {
    const at = (step: number) => mergeCells([cell(row, col, 1)], 0.1, step).map((one) => [one.row, one.col]);
    expect(at(0.5)).toEqual([half]);
    expect(at(1)).toEqual([whole]);
  });

  it('means weigh by birds, names stand once', () => {
    const merged = mergeCells(
      [
        cell(400, -827, 3, { latitude: 40, longitude: -82.7, coarse: 1, names: ['Licking, Ohio'] }),
        cell(402, -827, 1, { latitude: 40.2, longitude: -82.7, names: ['Licking, Ohio', 'Knox, Ohio'] }),
      ],
      0.1,
      1,
    );
    expect(merged).toHaveLength(1);
    expect(merged[0]).toMatchObject({ count: 4, coarse: 1, names: ['Licking, Ohio', 'Knox, Ohio'] });
    expect(merged[0]?.latitude).toBeCloseTo(40.05, 10);
  });

  it('every step divides the next, so that no cell is cut', () => {
    for (const [at, step] of MAP_STEPS.entries()) {
      const next = MAP_STEPS[at + 1];
      if (next !== undefined) expect((next / step) % 1, `${step} in ${next}`).toBeCloseTo(0, 9);
    }
  });

  it('no bird is lost, and each mark lies in the box that its term names', () => {
    const cells = fc.uniqueArray(
      fc.record({
        row: fc.integer({ min: -900, max: 899 }),
        col: fc.integer({ min: -1800, max: 1799 }),
        count: fc.integer({ min: 1, max: 50 }),
      }),
      { selector: ({ row, col }) => `${row} ${col}`, minLength: 1, maxLength: 40 },
    );
    fc.assert(
      fc.property(cells, fc.integer({ min: 2, max: 40 }), (made, most) => {
        const list = made.map(({ row, col, count }) => cell(row, col, count));
        const { marks, step } = drawCells(list, 0.1, most);
        expect(marks.length).toBeLessThanOrEqual(most);
        if (marks.length < most)
          expect(marks.reduce((sum, { count }) => sum + count, 0)).toBe(
            list.reduce((sum, { count }) => sum + count, 0),
          );
        for (const mark of marks) {
          const [south = 0, north = 0, west = 0, east = 0] =
            /^within:(.+)\.\.(.+)\/(.+)\.\.(.+)$/
              .exec(mark.terms[0] ?? '')
              ?.slice(1)
              .map(Number) ?? [];
          expect(mark.latitude).toBeGreaterThan(south);
          expect(mark.latitude).toBeLessThan(north);
          expect(mark.longitude).toBeGreaterThan(west);
          expect(mark.longitude).toBeLessThan(east);
          expect(north - south).toBeCloseTo(step, 6);
        }
      }),
    );
  });

  it('takes a coarser grid where there would be too many marks', () => {
    const list = Array.from({ length: 100 }, (_, at) => cell(at, 0, 1));
    expect(drawCells(list, 0.1, 100)).toMatchObject({ step: 0.1 });
    expect(drawCells(list, 0.1, 99)).toMatchObject({ step: 0.5 });
    expect(drawCells(list, 0.1, 12)).toMatchObject({ step: 1 });
  });
});

describe('marks of counties and states', () => {
  const ohio = { country: 'US', stateProvince: 'Ohio' };
  const centre = { latitude: 40, longitude: -83 };
  it('narrow to the county, or to the state where the county is not told', () => {
    const { marks, unplaced } = drawCounties(
      [
        { ...ohio, county: 'Van Wert', count: 2, coarse: 0 },
        { ...ohio, county: '', count: 5, coarse: 5 },
        { country: '', stateProvince: '', county: '', count: 1, coarse: 0 },
      ],
      ({ county, stateProvince }) =>
        stateProvince === '' ? null : { ...centre, of: county === '' ? 'state' : 'county' },
    );
    expect(unplaced).toBe(1);
    expect(marks.map(({ count, coarse, places, terms }) => ({ count, coarse, places, terms }))).toEqual([
      { count: 5, coarse: 5, places: ['Ohio'], terms: ['place:Ohio'] },
      { count: 2, coarse: 0, places: ['Van Wert, Ohio'], terms: ['county:"Van Wert"', 'place:Ohio'] },
    ]);
  });

  it('what finds no room counts as not drawn', () => {
    const rows = [1, 2, 3].map((count) => ({ ...ohio, county: `C${count}`, count, coarse: 0 }));
    const { marks, unplaced } = drawCounties(rows, () => ({ ...centre, of: 'county' }), 2);
    expect(marks.map(({ count }) => count)).toEqual([3, 2]);
    expect(unplaced).toBe(1);
  });
});
