import { describe, expect, it } from 'vitest';
import { parseCoordinates } from '@/lib/places/coordinates';
import { measureGeodesic, toMgrs, toUtm } from '@/lib/places/geodesy';
import {
  combineAtRightAngles,
  combineWithDirection,
  findDistanceStep,
  measureDatum,
  measureGps,
  measureGrid,
  measureMap,
  measurePrecision,
  measureSurveySquare,
  readHeading,
} from '@/lib/places/georeference';

// Source: Chapman & Wieczorek, Georeferencing Best Practices (2020), and Zermoglio et al., Georeferencing Quick
// Reference Guide (2020), both CC BY, unless said otherwise beside the check.
describe('point-radius uncertainty, printed tables', () => {
  // "Rounded up in all cases" is printed above the table, but some cells are not: hence ±1 m.
  it.each([
    [1, [156_904, 146_962, 124_605, 112_109]],
    [0.01, [1570, 1470, 1246, 1121]],
    [1 / 60, [2615, 2450, 2077, 1869]],
    [1 / 3600, [44, 41, 35, 32]],
  ])('precision of %d degree at 0, 30, 60 and 85 degrees of latitude', (step, printed) => {
    for (const [index, latitude] of [0, 30, 60, 85].entries()) {
      expect(Math.abs(measurePrecision(latitude, step).valueM - (printed[index] ?? 0))).toBeLessThanOrEqual(
        1,
      );
    }
  });

  it('10.27, -123.6 to 0.01 degree: 1.1061 and 1.0955 km, together 1.5568 km', () => {
    const term = measurePrecision(10.27, 0.01);
    expect(term.latitudeM / 1000).toBeCloseTo(1.1061, 4);
    expect(term.longitudeM / 1000).toBeCloseTo(1.0955, 4);
    expect(term.valueM / 1000).toBeCloseTo(1.5568, 4);
  });

  // The latitude part is printed as 55.6 km, a misprint for 55.30; the total is right.
  it('10, -123.5 to half a degree: 77.87 km', () => {
    expect(Math.abs(measurePrecision(10, 0.5).valueM / 1000 - 77.87)).toBeLessThanOrEqual(0.01);
    expect(measurePrecision(10, 0.5).latitudeM / 1000).toBeCloseTo(55.3, 2);
  });

  it('headings: N to 45, NE to 22.5, NNE to 11.25 degrees', () => {
    expect(['N', 'NE', 'NNE', 'w', 'ESE'].map((heading) => readHeading(heading)?.halfAngleDegrees)).toEqual([
      45, 22.5, 11.25, 45, 11.25,
    ]);
    expect(readHeading('ESE')?.azimuthDegrees).toBe(112.5);
  });

  // The formula with the direction is Wieczorek, Guo & Hijmans 2004, from memory.
  it('"10 km NE", direction only: 3.90 km', () => {
    expect(Math.abs(combineWithDirection([], 10_000, 22.5).uncertaintyM / 1000 - 3.9018)).toBeLessThanOrEqual(
      0.005,
    );
  });

  it('8 km E and 6 km N to the kilometre: 0.707 km', () => {
    const half = { id: 'distance', label: 'half a kilometre', valueM: 500, formula: '' } as const;
    expect(combineAtRightAngles([half]).uncertaintyM).toBeCloseTo(707.1, 1);
  });

  it('with a direction the result is never smaller than the distance terms or the angle alone', () => {
    const terms = [measureGrid(1000)];
    const both = combineWithDirection(terms, 10_000, 22.5).uncertaintyM;
    expect(both).toBeGreaterThan(combineWithDirection([], 10_000, 22.5).uncertaintyM);
    expect(both).toBeGreaterThan(terms[0]?.valueM ?? 0);
  });

  it.each([
    ['10.1', 0.05],
    ['10.25', 0.125],
    ['10.5', 0.25],
    ['10.6', 0.05],
    ['10.75', 0.125],
    ['10', 0.5],
    ['15', 0.5],
    ['30', 0.5],
    ['33', 0.5],
    ['100', 5],
    ['140', 5],
    ['200', 5],
    ['1000', 50],
    ['2000', 50],
  ])('a distance written "%s" may be off by %d', (written, step) => {
    expect(findDistanceStep(written)).toBe(step);
  });

  it('datum not recorded: 5359 m at the worst', () => {
    expect(measureDatum(false).valueM).toBe(5359);
    expect(measureDatum(true).valueM).toBe(0);
  });

  it('grid squares of 10 m, 100 m, 1 km: 7, 71, 707 m', () => {
    expect([10, 100, 1000].map((side) => Math.round(measureGrid(side).valueM))).toEqual([7, 71, 707]);
  });

  // The guide prints 39,226 m for the quarter-degree grid: that is the whole diagonal, so no check is made of it.
  // The quarter is printed as 570 m; half a mile over the root of two is 568.99 m, so the tolerance is 1.02 m.
  it('public land survey: township 6828, section 1138, quarter 570 m', () => {
    const printed = { township: 6828, section: 1138, 'quarter section': 570 } as const;
    for (const [square, metres] of Object.entries(printed)) {
      expect(
        Math.abs(measureSurveySquare(square as keyof typeof printed).valueM - metres),
      ).toBeLessThanOrEqual(1.02);
    }
  });

  it('map of 1:24,000: 12.2 m', () => {
    expect(Math.abs(measureMap(24_000).valueM - 12.2)).toBeLessThanOrEqual(0.05);
  });

  // Darwin Core, coordinateUncertaintyInMeters, examples of 2026-05-26; doubling: Georeferencing Best Practices.
  it('receiver: twice the reported accuracy; unknown 30 m, before 1 May 2000 100 m', () => {
    expect(measureGps(4, '2024-01-01').valueM).toBe(8);
    expect(measureGps(null, '2000-05-01').valueM).toBe(30);
    expect(measureGps(null, '1999-12-31').valueM).toBe(100);
  });

  // The London example is printed as 30 699582 5709431, which its own coordinates miss by 3 m: tolerance 4 m.
  it('51.500721, -0.124430 is 30U 699582 5709431', () => {
    const utm = toUtm({ latitude: 51.500721, longitude: -0.12443 });
    expect(utm.zone).toBe(30);
    expect(Math.abs(utm.eastingM - 699_582)).toBeLessThanOrEqual(4);
    expect(Math.abs(utm.northingM - 5_709_431)).toBeLessThanOrEqual(4);
    expect(parseCoordinates('30U 699582 5709431').ok).toBe(true);
  });
});

describe('geodesy, published cases', () => {
  // Source: GeographicLib's published test cases (GeodSolve).
  it('35.60777, -139.44815 to -11.17491, -69.95921', () => {
    const { distanceM, azimuthDegrees } = measureGeodesic(
      { latitude: 35.60777, longitude: -139.44815 },
      { latitude: -11.17491, longitude: -69.95921 },
    );
    expect(distanceM).toBeCloseTo(8_935_244.56048183, 6);
    expect(azimuthDegrees).toBeCloseTo(111.09874842956033, 9);
  });

  it('40.6, -73.8 to 49.01666667, 2.55', () => {
    const { distanceM, azimuthDegrees } = measureGeodesic(
      { latitude: 40.6, longitude: -73.8 },
      { latitude: 49.01666667, longitude: 2.55 },
    );
    expect(Math.abs(distanceM - 5_853_226)).toBeLessThanOrEqual(0.5);
    expect(azimuthDegrees).toBeCloseTo(53.47022, 5);
  });

  // Source: tests of the mgrs library.
  it('-115.0820944, 36.2361322 is MGRS 11SPA7234911844', () => {
    expect(toMgrs({ latitude: 36.2361322, longitude: -115.0820944 })).toBe('11SPA7234911844');
  });

  it('MGRS 33UXP04 is 16.41450, 48.24949', () => {
    const parsed = parseCoordinates('33UXP04');
    if (!parsed.ok) throw new Error(parsed.message);
    expect(Math.abs(parsed.value.longitude - 16.4145)).toBeLessThan(1e-6);
    expect(Math.abs(parsed.value.latitude - 48.24949)).toBeLessThan(1e-6);
    expect(parsed.value.gridSizeM).toBe(10_000);
  });

  // Source: GeographicLib's tests of its DMS reader, which takes a sign times a letter. Furcula refuses that as
  // ambiguous (a label with "-87.6 W" nearly always means the west) and offers both readings.
  it('"E7:33:36" and "-7.56W" are the same longitude', () => {
    const degrees = parseCoordinates('N0:0:1 E7:33:36');
    expect(degrees.ok && degrees.value.longitude).toBeCloseTo(7.56, 12);
    const signed = parseCoordinates('1 N -7.56W');
    expect(signed.ok ? [] : signed.readings.map(Number)).toContain(7.56);
  });

  // Source: EURING Exchange Code 2020 (record); the conversion is computed.
  it('+420500-0044500 is 42.083333, -4.750000', () => {
    const parsed = parseCoordinates('+420500-0044500');
    if (!parsed.ok) throw new Error(parsed.message);
    expect(parsed.value.latitude).toBeCloseTo(42.083333, 6);
    expect(parsed.value.longitude).toBe(-4.75);
  });
});
