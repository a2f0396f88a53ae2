import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatCoordinates, parseCoordinates, parseLatitudeLongitude } from '@/lib/places/coordinates';

const taken: [string, number, number, string][] = [
  ['41 05 54S 121 05 34W', -41.0983333, -121.0927778, 'degrees minutes seconds'],
  ['40°26′46″N 79°58′56″W', 40.4461111, -79.9822222, 'degrees minutes seconds'],
  ['40-26-46N 79-58-56W', 40.4461111, -79.9822222, 'degrees minutes seconds'],
  ["40º 26' 46'' N, 79º 58' 56'' W", 40.4461111, -79.9822222, 'degrees minutes seconds'],
  ['121d 10m 34s W 41d 2m 3s N', 41.0341667, -121.1761111, 'degrees minutes seconds'],
  ["41° 05,5' N 121° 30,2' W", 41.0916667, -121.5033333, 'degrees decimal minutes'],
  ['23 degrees 42.72 minutes south 140 degrees 30 minutes east', -23.712, 140.5, 'degrees decimal minutes'],
  ['-33.5, 151.2', -33.5, 151.2, 'decimal degrees'],
  ['−33.5° 151.2°', -33.5, 151.2, 'decimal degrees'],
  ['51,5007; -0,1244', 51.5007, -0.1244, 'decimal degrees'],
  ['139.92, -23.712', -23.712, 139.92, 'decimal degrees'],
  ['Lat: 41.5, Lon: -87.6', 41.5, -87.6, 'decimal degrees'],
  ['long -87.6 lat 41.5', 41.5, -87.6, 'decimal degrees'],
  ['W 87.6 N 41.5', 41.5, -87.6, 'decimal degrees'],
  ['+40.6894-074.0447/', 40.6894, -74.0447, 'ISO 6709'],
  ['+4041.36-07402.68', 40.6893333, -74.0446667, 'ISO 6709'],
  ['16S 450000 4630000', -48.4811379, -87.6765987, 'UTM'],
  ['zone 17 north 630000E 4833400N', 43.6422344, -79.3881931, 'UTM'],
  ['17T 630,000 4,833,400', 43.6422344, -79.3881931, 'UTM'],
  ['17T N4833400 E630000', 43.6422344, -79.3881931, 'UTM'],
  ['11S PA 72349 11844', 36.2361279, -115.082092, 'MGRS'],
];

const refused: [string, string][] = [
  ['', 'empty'],
  ['x', 'unreadable'],
  ['41.5', 'incomplete'],
  ['51,12', 'ambiguous'],
  ['51,5,0,12', 'ambiguous'],
  ['-87.6W 41N', 'ambiguous'],
  ['40.6894-74.0447', 'ambiguous'],
  ['41.5N 87.6', 'ambiguous'],
  ['41 5 121 3', 'ambiguous'],
  ['16S 450000 3630000', 'ambiguous'],
  ['17 630000 4833400', 'ambiguous'],
  ['95.1, 100', 'out-of-range'],
  ['41.5, 190', 'out-of-range'],
  ['95 0 0 N 20 0 0 E', 'out-of-range'],
  ['40 60 0 N 79 0 0 W', 'out-of-range'],
  ['40 10 60 N 79 0 0 W', 'out-of-range'],
  ['40.5 10 N 79 0 W', 'unreadable'],
  ['41N 42N', 'unreadable'],
  ["41' 5° N 3 E", 'unreadable'],
  ['17C 630000 4833400', 'out-of-range'],
  ['17I 630000 4833400', 'out-of-range'],
  ['61T 630000 4833400', 'out-of-range'],
  ['17T 30000 4833400', 'out-of-range'],
  ['31NAA00', 'out-of-range'],
  ['33UXP041', 'incomplete'],
  ['23 degrees south 185 degrees, x degrees east', 'unreadable'],
  ['1, 2, 3', 'incomplete'],
];

describe('coordinates as written', () => {
  it.each(taken)('%s', (written, latitude, longitude, system) => {
    const parsed = parseCoordinates(written);
    if (!parsed.ok) throw new Error(parsed.message);
    expect(parsed.value.latitude).toBeCloseTo(latitude, 6);
    expect(parsed.value.longitude).toBeCloseTo(longitude, 6);
    expect(parsed.value.system).toBe(system);
    expect(parsed.value.verbatim).toBe(written);
  });

  it.each(refused)('refuses "%s" as %s', (written, code) => {
    const parsed = parseCoordinates(written);
    expect(parsed.ok ? parsed.value : parsed.code).toBe(code);
  });

  it('shows both readings of a sign beside a letter', () => {
    const parsed = parseCoordinates('41.0 N, -87.6 W');
    expect(parsed).toMatchObject({ ok: false, code: 'ambiguous', readings: ['-87.6', '87.6'] });
  });

  it('shows both places of a zone letter S', () => {
    const parsed = parseCoordinates('16S 450000 3630000');
    expect(parsed).toMatchObject({ readings: ['32.80684, -87.53408', '-57.46989, -87.83362'] });
  });

  it('keeps to the declared system', () => {
    expect(parseCoordinates('54K 0390210 7377243', { system: 'decimal degrees' }).ok).toBe(false);
    expect(parseCoordinates('54K 0390210 7377243', { system: 'UTM' }).ok).toBe(true);
  });

  it('says that a first number over 90 was read as the longitude', () => {
    const parsed = parseCoordinates('139.92, -23.712');
    expect(parsed.ok && parsed.value.remarks).toHaveLength(1);
  });

  it.each([
    ['41.50, -87.6', 0.1],
    ['41.50, -87.60', 0.01],
    ['41° 5\' 6" N, 87° 6\' 5" W', 1 / 3600],
    ["41° 5.5' N, 87° 6' W", 1 / 60],
    ['41 N 87 W', 1],
  ])('knows how precise "%s" is', (written, precision) => {
    const parsed = parseCoordinates(written);
    expect(parsed.ok && parsed.value.precisionDegrees).toBeCloseTo(precision, 12);
  });

  it('reads latitude and longitude from fields of their own, and notices when they are swapped', () => {
    const parsed = parseLatitudeLongitude('41 05 54.03S', '121d 10\' 34" W');
    expect(parsed.ok && parsed.value.longitude).toBeCloseTo(-121.1761111, 7);
    expect(parseLatitudeLongitude('121° W', '41° N').ok).toBe(false);
    expect(parseLatitudeLongitude('51,5', '-0,12').ok).toBe(true);
    expect(parseLatitudeLongitude('-23.712', 'x').ok).toBe(false);
  });
});

describe('coordinates written and read again', () => {
  const point = fc.record({
    latitude: fc.double({ min: -89.99, max: 89.99, noNaN: true }),
    longitude: fc.double({ min: -179.99, max: 179.99, noNaN: true }),
  });
  const styles = [
    ['decimal degrees', 7, 1e-6],
    ['degrees decimal minutes', 5, 1e-6],
    ['degrees minutes seconds', 3, 1e-6],
  ] as const;

  it.each(styles)('%s', (style, decimals, tolerance) => {
    fc.assert(
      fc.property(point, (place) => {
        const written = formatCoordinates(place, style, decimals);
        const parsed = parseCoordinates(written);
        if (!parsed.ok) throw new Error(`${written}: ${parsed.message}`);
        expect(Math.abs(parsed.value.latitude - place.latitude)).toBeLessThan(tolerance);
        expect(Math.abs(parsed.value.longitude - place.longitude)).toBeLessThan(tolerance);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  it('never gives a number out of range, whatever is typed', () => {
    const pieces = fc.array(
      fc.constantFrom(
        '4',
        '41',
        '.',
        ',',
        ' ',
        '-',
        '+',
        '°',
        "'",
        '"',
        'N',
        'W',
        's',
        'E',
        ';',
        '121.5',
        '0',
        'deg',
        'x',
        '17T',
        'm',
      ),
      { maxLength: 14 },
    );
    fc.assert(
      fc.property(pieces, (written) => {
        const parsed = parseCoordinates(written.join(''));
        if (!parsed.ok) return;
        expect(Math.abs(parsed.value.latitude)).toBeLessThanOrEqual(90);
        expect(Math.abs(parsed.value.longitude)).toBeLessThanOrEqual(180);
      }),
      { seed: 20261125, numRuns: 5000 },
    );
  });
});
