import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkPlaceAgreement, locatePoint, suggestTranspositions } from '@/lib/places/counties';
import { parseMetreRange } from '@/lib/places/distances';
import { generalisePlace } from '@/lib/places/generalise';
import { drawUncertaintyRing, measureGeodesic } from '@/lib/places/geodesy';
import {
  combineWithoutDirection,
  georeferenceCoordinates,
  georeferenceOffset,
  measureGps,
} from '@/lib/places/georeference';

const chicago = { latitude: 41.8663, longitude: -87.64 };

describe('county, state and country of a coordinate', () => {
  it.each([
    [chicago, { country: 'USA', stateProvince: 'IL', county: 'Cook County' }, 'agrees'],
    [chicago, { stateProvince: 'Illinois', county: 'COOK CO.' }, 'agrees'],
    [chicago, { stateProvince: 'Illinois' }, 'agrees'],
    [chicago, { countryCode: 'us' }, 'agrees'],
    [chicago, { stateProvince: 'Illinois', county: 'Lake' }, 'other-place'],
    [{ latitude: 38.63, longitude: -90.2 }, { stateProvince: 'MO', county: 'Saint Louis' }, 'agrees'],
    [{ latitude: 41.8663, longitude: 87.64 }, { stateProvince: 'Illinois', county: 'Cook' }, 'other-place'],
    [{ latitude: 41.8663, longitude: -86.9 }, { stateProvince: 'Illinois', county: 'Cook' }, 'in-the-sea'],
    [{ latitude: 20, longitude: -30 }, { country: 'Portugal' }, 'in-the-sea'],
    [{ latitude: 41.8663, longitude: -87.607 }, { stateProvince: 'IL', county: 'Cook' }, 'near'],
    [chicago, { stateProvince: 'IL', county: 'Nowhere' }, 'unknown-name'],
    [chicago, { stateProvince: 'Tasmania' }, 'unknown-name'],
    [chicago, {}, 'nothing-named'],
  ] as const)('%o in %o: %s', (point, named, verdict) => {
    expect(checkPlaceAgreement(point, named)).toMatchObject({ verdict });
  });

  it('widens by the uncertainty of the coordinates', () => {
    const point = { latitude: 41.8663, longitude: -87.45 };
    const named = { stateProvince: 'IL', county: 'Cook' };
    expect(checkPlaceAgreement(point, named, 100).verdict).toBe('in-the-sea');
    expect(checkPlaceAgreement(point, named, 20_000).verdict).toBe('near');
  });

  it('names county and code, and offers what would fit', () => {
    expect(locatePoint(chicago)).toMatchObject({ county: 'Cook', state: 'Illinois', countyFips: '17031' });
    const swapped = suggestTranspositions(
      { latitude: -87.64, longitude: 41.8663 },
      { stateProvince: 'IL', county: 'Cook' },
    );
    expect(swapped).toEqual([chicago]);
  });
});

describe('elevation and depth', () => {
  it.each([
    ['1500 - 2000 Ft', 457.2, 609.6],
    ['-5 m', -5, -5],
    ['100,5 m', 100.5, 100.5],
    ['Mindepth 10m, maxdepth=100m', 10, 100],
  ])('%s', (written, minimumM, maximumM) => {
    expect(parseMetreRange(written)).toMatchObject({ value: { minimumM, maximumM } });
  });

  it.each([
    ['1000', 'ambiguous'],
    ['10-15', 'ambiguous'],
    ['max depth 100m', 'incomplete'],
    ['two thousand', 'unreadable'],
    ['200 - 100 m', 'unreadable'],
    ['10 parsec', 'unreadable'],
  ])('refuses "%s" as %s', (written, code) => {
    expect(parseMetreRange(written)).toMatchObject({ ok: false, code });
  });
});

describe('uncertainty', () => {
  it('shows each term and their sum', () => {
    const result = georeferenceCoordinates({
      latitude: 41.8663,
      precisionDegrees: null,
      gridSizeM: 100,
      datumKnown: true,
      gps: { accuracyM: 5, recordedOn: '2024-05-01' },
      extentM: 40,
    });
    expect(result.terms.map((term) => [term.id, Math.round(term.valueM * 10) / 10])).toEqual([
      ['grid', 70.7],
      ['datum', 0],
      ['gps', 10],
      ['extent', 40],
    ]);
    expect(result.reportedM).toBe(121);
  });

  it('never reports zero', () => {
    expect(combineWithoutDirection([]).reportedM).toBe(1);
  });

  it('takes the date into account when the accuracy of the receiver is unknown', () => {
    expect(
      [measureGps(null, '2000-04-30'), measureGps(null, '2000-05-01'), measureGps(null, null)].map(
        (term) => term.valueM,
      ),
    ).toEqual([100, 30, 100]);
  });

  it('holds every true place of an offset: all distances and headings that the words allow', () => {
    const from = chicago;
    const words = { from, fromTerms: [], distanceWritten: '10', metresPerUnit: 1000, heading: 'NE' };
    const result = georeferenceOffset(words);
    if (!result) throw new Error('no result');
    const edge = georeferenceOffset({ ...words, heading: '67', distanceWritten: '10.5' });
    if (!edge) throw new Error('no edge');
    expect(measureGeodesic(result.point, edge.point).distanceM).toBeLessThanOrEqual(result.uncertaintyM);
    expect(georeferenceOffset({ ...words, heading: 'up the hill' })).toBeNull();
  });
});

describe('generalised places', () => {
  const point = fc.record({
    latitude: fc.double({ min: -90, max: 90, noNaN: true }),
    longitude: fc.double({ min: -180, max: 180, noNaN: true }),
    uncertaintyM: fc.option(fc.integer({ min: 1, max: 5000 })),
  });

  it.each([1, 0.1, 0.01] as const)(
    'the circle of a cell of %s degree holds the true point, and cells are fixed',
    (step) => {
      fc.assert(
        fc.property(point, (place) => {
          const shared = generalisePlace(place, step);
          if (shared.latitude === null || shared.longitude === null) throw new Error('withheld');
          const centre = { latitude: shared.latitude, longitude: shared.longitude };
          expect(measureGeodesic(centre, place).distanceM + (place.uncertaintyM ?? 0)).toBeLessThanOrEqual(
            shared.uncertaintyM ?? 0,
          );
          const again = generalisePlace({ ...centre, uncertaintyM: null }, step);
          expect([again.latitude, again.longitude]).toEqual([centre.latitude, centre.longitude]);
        }),
        { seed: 20261125, numRuns: 500 },
      );
    },
  );

  it('says what was done in the words of the standard terms', () => {
    expect(generalisePlace({ ...chicago, uncertaintyM: 10 }, 0.1)).toMatchObject({
      latitude: 41.85,
      longitude: -87.65,
      coordinatePrecision: 0.1,
      dataGeneralizations: expect.stringContaining('0.1 degree'),
      informationWithheld: expect.stringContaining('withheld'),
    });
    expect(generalisePlace({ ...chicago, uncertaintyM: 10 }, 'none')).toMatchObject({
      latitude: null,
      uncertaintyM: null,
    });
  });
});

it('draws the circle of an uncertainty as a closed ring at its distance, counterclockwise', () => {
  const ring = drawUncertaintyRing(chicago, 500, 8);
  expect(ring).toHaveLength(9);
  expect(ring[0]).toEqual(ring[8]);
  for (const [longitude, latitude] of ring) {
    expect(measureGeodesic(chicago, { latitude, longitude }).distanceM).toBeCloseTo(500, 3);
  }
  const area = ring
    .slice(1)
    .reduce((sum, [x, y], index) => sum + ((ring[index]?.[0] ?? 0) * y - x * (ring[index]?.[1] ?? 0)), 0);
  expect(area).toBeGreaterThan(0);
});
