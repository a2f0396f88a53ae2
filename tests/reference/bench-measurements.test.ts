import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { ALLOMETRY, type AllometricLength, checkProportions } from '@/lib/bench/allometry';
import type { NumberFieldId } from '@/lib/bench/fields';
import { gonadVolumeMm3 } from '@/lib/bench/gonads';
import { SIZE_CLASSES, sizeClassOf } from '@/lib/bench/size-limits';
import { checkWingSum, handWingIndex, sumMoultScores, wristTieDistanceMm } from '@/lib/bench/wing';

// AVONET (Tobias et al. 2022, CC BY 4.0), rows that rest on a single bird: wing, Kipp's distance, first secondary.
const SINGLE_BIRDS = [
  [166, 42.9, 123.1, 25.8],
  [228, 61.8, 166.2, 27.1],
  [200, 60, 140, 30],
] as const;

describe('hand-wing index of single birds in AVONET', () => {
  it.each(SINGLE_BIRDS)(
    "wing %d, Kipp's distance %d: first secondary %d, index %d",
    (wing, kipp, s1, index) => {
      expect(Math.abs(checkWingSum(wing, kipp, s1).differenceMm)).toBeLessThanOrEqual(0.1);
      expect(checkWingSum(wing, kipp, s1).consistent).toBe(true);
      expect(Math.abs((handWingIndex(kipp, wing) ?? 0) - index)).toBeLessThanOrEqual(0.05);
    },
  );
});

describe('figures of the bench', () => {
  // Ellipsoid π·W²·L/6 as used for testes; the value computed from the formula.
  it('takes a testis of 9 by 6 mm as 169.65 mm³', () => {
    expect(gonadVolumeMm3({ lengthMm: 9, widthMm: 6 })).toBeCloseTo(169.65, 2);
  });

  // Ginn & Melville 1983, from memory; scores as in the EURING Exchange Code 2020.
  it('sums primaries 5555432100 to 30 of 50', () => {
    expect(sumMoultScores('5555432100')).toEqual({ sum: 30, most: 50, feathers: 10, growing: 4 });
  });

  // Common practice, no source.
  it('ties wrists at 1⅔ of the distance between the wings', () => {
    expect(wristTieDistanceMm(24)).toBeCloseTo(40, 10);
  });
});

const directory = process.env.FURCULA_REFERENCE_DIR ?? join(process.cwd(), '..', 'shared');
const avonet = join(directory, 'reference-data', 'avonet1_birdlife_species_means.csv');

const COLUMNS: Partial<Record<NumberFieldId, string>> = {
  wingMm: 'Wing.Length',
  tailMm: 'Tail.Length',
  tarsusMm: 'Tarsus.Length',
  culmenExposedMm: 'Beak.Length_Culmen',
  billFromNostrilMm: 'Beak.Length_Nares',
  billDepthMm: 'Beak.Depth',
  billWidthMm: 'Beak.Width',
  kippsDistanceMm: 'Kipps.Distance',
};

function readSpecies(): Record<string, string>[] {
  return parse(readFileSync(avonet), { columns: true, bom: true });
}

/** 0.1 is the placeholder for wing, tail and Kipp's distance of flightless birds. */
const measured = (row: Record<string, string>, column: string): number | null => {
  const value = Number(row[column]);
  return Number.isFinite(value) && value > 0.1 ? value : null;
};

describe.skipIf(!existsSync(avonet))(
  'AVONET species means (skipped where the reference file is absent)',
  () => {
    const rows = existsSync(avonet) ? readSpecies() : [];

    it('are what the size limits were rounded from', () => {
      expect(rows).toHaveLength(11_009);
      for (const { fromG, belowG, limits, label } of SIZE_CLASSES) {
        const inClass = rows.filter((row) => Number(row.Mass) >= fromG && Number(row.Mass) < belowG);
        for (const [field, column] of Object.entries(COLUMNS)) {
          const means = inClass.flatMap((row) => measured(row, column) ?? []);
          const [low, high] = limits[field as NumberFieldId] ?? [Number.NaN, Number.NaN];
          const [smallest, largest] = [Math.min(...means) * 0.7, Math.max(...means) * 1.3];
          expect(low, `${label} ${field}`).toBeLessThanOrEqual(smallest);
          expect(low, `${label} ${field}`).toBeGreaterThan(smallest * 0.9);
          expect(high, `${label} ${field}`).toBeGreaterThanOrEqual(largest);
          expect(high, `${label} ${field}`).toBeLessThan(largest * 1.1);
        }
      }
    });

    it('all lie inside the limits of their own size', () => {
      const outside = rows.filter((row) =>
        Object.entries(sizeClassOf(Number(row.Mass)).limits).some(([field, [low, high]]) => {
          const value = measured(row, COLUMNS[field as NumberFieldId] ?? '');
          return value !== null && (value < low || value > high);
        }),
      );
      expect(outside).toEqual([]);
    });

    it.each(Object.keys(ALLOMETRY) as AllometricLength[])('give the line of %s on mass', (field) => {
      const points = rows.flatMap((row): [number, number][] => {
        const length = measured(row, COLUMNS[field] ?? '');
        return length === null ? [] : [[Math.log10(Number(row.Mass)), Math.log10(length)]];
      });
      const { m, b } = linearRegression(points);
      const squares = points.reduce((sum, [x, y]) => sum + (y - b - m * x) ** 2, 0);
      expect(ALLOMETRY[field].a).toBeCloseTo(b, 4);
      expect(ALLOMETRY[field].b).toBeCloseTo(m, 5);
      expect(ALLOMETRY[field].sd).toBeCloseTo(Math.sqrt(squares / (points.length - 2)), 4);
    });

    it('are called out of proportion in fewer than one species in a hundred', () => {
      const odd = rows.filter((row) => {
        const [wingMm, tailMm, tarsusMm] = (['wingMm', 'tailMm', 'tarsusMm'] as const).map(
          (field) => measured(row, COLUMNS[field] ?? '') ?? undefined,
        );
        return checkProportions({ massG: Number(row.Mass), wingMm, tailMm, tarsusMm }).length > 0;
      });
      expect(odd.length / rows.length).toBeLessThan(0.01);
    });
  },
);
