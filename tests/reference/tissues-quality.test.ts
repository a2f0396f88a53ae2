import { describe, expect, it } from 'vitest';
import { classifyQuality } from '@/lib/storage/quality';
import type { Preservation } from '@/lib/tissues/schema';

const frozen = (temperatureC: number | null): Preservation => ({
  kind: 'frozen',
  ethanolPercent: null,
  temperatureC,
});
const liquid = (kind: Preservation['kind'], ethanolPercent: number | null = null): Preservation => ({
  kind,
  ethanolPercent,
  temperatureC: null,
});

describe('quality classes, Wong et al. 2012, GigaScience 1:8, Table 1', () => {
  it.each([
    ['live, −130 °C', 'live', frozen(-130), null, 4],
    ['fresh, −196 °C', 'fresh', liquid('liquid-nitrogen'), null, 4],
    ['fresh, RNA stabiliser', 'fresh', liquid('rna-stabiliser'), null, 4],
    ['fresh, −80 °C', 'fresh', frozen(-80), null, 3],
    ['salvaged, −20 °C, over 700 µg DNA', 'salvaged', frozen(-20), 701, 2],
    ['salvaged, ethanol', 'salvaged', liquid('ethanol', 95), null, 1],
    ['salvaged, −20 °C, 700 µg DNA', 'salvaged', frozen(-20), 700, 1],
  ] as const)('as printed: %s', (_, origin, preservation, dnaYieldUg, stars) => {
    expect(classifyQuality({ origin, preservation, dnaYieldUg }).stars).toBe(stars);
  });

  // Not printed: our documented choices where the bands overlap or leave a gap.
  it.each([
    ['a salvaged bird is capped at 2, however cold', 'salvaged', frozen(-196), 2000, 2],
    ['between −130 and −80 °C counts as 3', 'fresh', frozen(-100), null, 3],
    ['between −80 and −20 °C still counts as 3', 'fresh', frozen(-40), null, 3],
    ['fresh at −20 °C takes the lower of two bands', 'fresh', frozen(-20), 900, 2],
    ['fresh in ethanol takes the row that names ethanol', 'fresh', liquid('ethanol', 95), null, 1],
    ['a low yield does not lower a fresh sample at −80 °C', 'fresh', frozen(-80), 100, 3],
    ['DMSO and salt are read as ethanol', 'salvaged', liquid('dmso-salt'), null, 1],
  ] as const)('our reading: %s', (_, origin, preservation, dnaYieldUg, stars) => {
    expect(classifyQuality({ origin, preservation, dnaYieldUg }).stars).toBe(stars);
  });

  it('gives its reason, and says when a yield could still lower it', () => {
    const open = classifyQuality({ origin: 'salvaged', preservation: frozen(-80), dnaYieldUg: null });
    expect(open).toMatchObject({ stars: 2, isProvisional: true });
    expect(open.reason).toContain('salvaged, which allows 2 at most');
    expect(open.reason).toContain('700 µg');
    const measured = classifyQuality({ origin: 'salvaged', preservation: frozen(-80), dnaYieldUg: 900 });
    expect(measured.isProvisional).toBe(false);
  });

  it('does not class what is not known', () => {
    expect(classifyQuality({ origin: null, preservation: frozen(-80), dnaYieldUg: null }).stars).toBeNull();
    expect(
      classifyQuality({ origin: 'fresh', preservation: frozen(null), dnaYieldUg: null }).stars,
    ).toBeNull();
    expect(classifyQuality({ origin: 'fresh', preservation: frozen(4), dnaYieldUg: null }).stars).toBeNull();
  });
});
