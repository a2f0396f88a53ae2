import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { computeMeanKineticTemperature, convertToCelsius, judgeKineticMean } from '@/lib/storage/temperature';

// Formula and constants: United States Pharmacopeia (83.144 kJ/mol). Values computed from the formula.
describe('mean kinetic temperature', () => {
  it.each([
    ['constant 25', [25, 25, 25, 25], 25],
    ['20, 25, 30', [20, 25, 30], 25.858],
    ['4, 4, 4, 4, 16', [4, 4, 4, 4, 16], 8.109],
    ['23 readings of −80 and one of −20', [...Array<number>(23).fill(-80), -20], -38.849],
  ])('%s °C', (_, readings, expected) => {
    expect(Math.abs((computeMeanKineticTemperature(readings) ?? Number.NaN) - expected)).toBeLessThanOrEqual(
      0.001,
    );
  });

  it('has no value without readings', () => {
    expect(computeMeanKineticTemperature([])).toBeNull();
  });

  it('stays finite at the temperature of liquid nitrogen, where the plain sum is zero', () => {
    expect(Math.exp(-10_000 / 10)).toBe(0);
    expect(computeMeanKineticTemperature([-263.15, -263.15])).toBeCloseTo(-263.15, 6);
  });

  it('lies between the mean and the warmest reading, in any order of readings', () => {
    const readings = fc.array(fc.double({ min: -100, max: 50, noNaN: true }), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(readings, (list) => {
        const value = computeMeanKineticTemperature(list) ?? Number.NaN;
        const turned = computeMeanKineticTemperature([...list].reverse()) ?? Number.NaN;
        const mean = list.reduce((sum, reading) => sum + reading, 0) / list.length;
        return value >= mean - 1e-6 && value <= Math.max(...list) + 1e-6 && Math.abs(value - turned) < 1e-6;
      }),
    );
  });

  it('is said to mean nothing for a frozen store', () => {
    expect(judgeKineticMean(-80)).toMatchObject({ isMeaningful: false });
    expect(judgeKineticMean(-80).remark).toContain('means nothing');
    expect(judgeKineticMean(20).isMeaningful).toBe(true);
    expect(judgeKineticMean(null).isMeaningful).toBe(false);
  });
});

describe('units', () => {
  it('converts at the fixed points', () => {
    expect(convertToCelsius(212, 'F')).toBe(100);
    expect(convertToCelsius(-40, 'F')).toBe(-40);
    expect(convertToCelsius(77.15, 'K')).toBeCloseTo(-196, 9);
    expect(convertToCelsius(-274, 'C')).toBeNull();
    expect(convertToCelsius(-1, 'K')).toBeNull();
  });
});
