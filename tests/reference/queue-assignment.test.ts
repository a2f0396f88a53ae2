import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { solveModel } from '@/lib/queue/plan-solver';
import type { AssignmentModel } from '@/lib/queue/rules/plan-model';

// Long computations: a busy machine may need a while.
vi.setConfig({ testTimeout: 120_000 });

/** Independent solver (munkres-js, the Hungarian method): pairs of row and column. It ships no types. */
const munkres: (costs: number[][]) => [number, number][] = createRequire(import.meta.url)('munkres-js');

const LEFT_OUT = 1_000_000;

/** A bare assignment problem in the terms of a day: each row a person for one bird, each column a bird. */
function matrixModel(costs: number[][]): AssignmentModel {
  const columns = costs[0]?.length ?? 0;
  return {
    people: costs.map(() => ({ minutes: 1, maxBirds: 1, idleCost: LEFT_OUT })),
    kinds: Array.from({ length: columns }, (_, column) => ({
      leaveCosts: [0],
      required: false,
      options: costs.map((row, person) => ({
        person,
        cost: row[column] ?? 0,
        minutes: 1,
        supervisors: null,
      })),
    })),
    shared: costs.map((row) => row.map(() => 0)),
    traineesPerSupervisor: 1,
    supervisionMinutes: 0,
    bench: [],
  };
}

/** Costs taken, row by row (null: a row left out), and their sum. */
async function assign(costs: number[][]) {
  const solved = await solveModel(matrixModel(costs), 20);
  if (!('counts' in solved)) throw new Error(solved.status);
  const taken = costs.map((row, person) => {
    const column = solved.counts.findIndex((options) => options[person] === 1);
    return column < 0 ? null : (row[column] ?? null);
  });
  const leftOut = taken.filter((cost) => cost === null).length;
  return { status: solved.status, taken, sum: solved.cost - leftOut * LEFT_OUT };
}

describe('published assignment problems', () => {
  // SciPy test suite, scipy/optimize/tests/test_linear_assignment.py: cost matrix and the costs of the best assignment.
  it.each([
    [
      [
        [400, 150, 400],
        [400, 450, 600],
        [300, 225, 300],
      ],
      [150, 400, 300],
      850,
    ],
    [
      [
        [400, 150, 400, 1],
        [400, 450, 600, 2],
        [300, 225, 300, 3],
      ],
      [150, 2, 300],
      452,
    ],
    [
      [
        [10, 10, 8],
        [9, 8, 1],
        [9, 7, 4],
      ],
      [10, 1, 7],
      18,
    ],
    [
      [
        [10, 10, 8, 11],
        [9, 8, 1, 1],
        [9, 7, 4, 10],
      ],
      [10, 1, 4],
      15,
    ],
  ])('SciPy: %j costs %j', async (costs, taken, sum) => {
    const result = await assign(costs);
    expect(result).toMatchObject({ status: 'proved-best', sum });
    expect([...result.taken].sort()).toEqual([...taken].sort());
  });
});

describe('random assignment problems against an independent solver (munkres-js)', () => {
  const matrix = fc
    .record({ rows: fc.integer({ min: 1, max: 9 }), columns: fc.integer({ min: 1, max: 9 }) })
    .chain(({ rows, columns }) =>
      fc.array(fc.array(fc.integer({ min: 0, max: 500 }), { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
    );

  it('costs the same', async () => {
    await fc.assert(
      fc.asyncProperty(matrix, async (costs) => {
        const best = munkres(costs.map((row) => [...row])).reduce(
          (sum, [row, column]) => sum + (costs[row]?.[column] ?? 0),
          0,
        );
        const { status, sum } = await assign(costs);
        expect(status).toBe('proved-best');
        expect(sum).toBe(best);
      }),
      { numRuns: 60 },
    );
  });
});
