import { geoArea } from 'd3-geo';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chooseWords,
  degreePx,
  fitProjection,
  heightFor,
  keyCounts,
  LEAST_ZOOM,
  MOST_ZOOM,
  moveView,
  radiusOf,
  sayPlaces,
  stepFor,
  WHOLE,
  zoomView,
} from '@/components/catalogue/map-geometry';

const size = { width: 720, height: heightFor(720) };
const place = fc.record({
  latitude: fc.double({ min: -80, max: 80, noNaN: true }),
  longitude: fc.double({ min: -180, max: 179.9, noNaN: true }),
});

describe('the map is laid out', () => {
  it('so that every place near each other is in it, wherever on Earth', () => {
    const cluster = fc.tuple(
      place,
      fc.array(
        fc.tuple(fc.double({ min: -4, max: 4, noNaN: true }), fc.double({ min: -4, max: 4, noNaN: true })),
        { minLength: 1, maxLength: 12 },
      ),
    );
    fc.assert(
      fc.property(cluster, ([at, offsets]) => {
        const places = offsets.map(([north, east]) => ({
          latitude: at.latitude + north,
          longitude: ((at.longitude + east + 540) % 360) - 180,
        }));
        const projection = fitProjection(places, size);
        for (const { latitude, longitude } of places) {
          const [x = Number.NaN, y = Number.NaN] = projection([longitude, latitude]) ?? [];
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(size.width);
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(size.height);
        }
      }),
    );
  });

  it('over all the world, too, and of no place at all', () => {
    for (const places of [
      [],
      [
        { latitude: 40, longitude: -100 },
        { latitude: -30, longitude: 140 },
        { latitude: 60, longitude: 20 },
      ],
    ])
      for (const { latitude, longitude } of places) {
        const [x = Number.NaN] = fitProjection(places, size)([longitude, latitude]) ?? [];
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(size.width);
      }
    expect(fitProjection([], size).scale()).toBeGreaterThan(0);
  });

  it('of one place shows a degree around it, not one street', () => {
    const scale = fitProjection([{ latitude: 40, longitude: -83 }], size).scale();
    expect(size.height / degreePx(scale, 1)).toBeGreaterThan(1);
    expect(size.height / degreePx(scale, 1)).toBeLessThan(2);
  });

  it('with equal land as equal area', () => {
    const projection = fitProjection(
      [
        { latitude: 30, longitude: -120 },
        { latitude: 48, longitude: -75 },
      ],
      size,
    );
    // Squares of a tenth of a degree, drawn; their area on the Earth is what d3-geo says of them.
    const ratio = (latitude: number, longitude: number) => {
      const ring = [
        [longitude, latitude],
        [longitude, latitude + 0.1],
        [longitude + 0.1, latitude + 0.1],
        [longitude + 0.1, latitude],
        [longitude, latitude],
      ] as [number, number][];
      const drawn = ring.map((corner) => projection(corner) ?? [0, 0]);
      const area = drawn.slice(1).reduce((sum, [x = 0, y = 0], at) => {
        const [px = 0, py = 0] = drawn[at] ?? [];
        return sum + (px * y - x * py) / 2;
      }, 0);
      return Math.abs(area) / geoArea({ type: 'Polygon', coordinates: [ring] });
    };
    expect(ratio(31, -119) / ratio(47, -76)).toBeCloseTo(1, 2);
  });
});

describe('nearer, farther, aside', () => {
  it('what lies under the pointer stays there', () => {
    const at = { x: 300, y: 200 };
    const near = zoomView(WHOLE, 4, at, size);
    expect((at.x - near.x) / near.k).toBeCloseTo(at.x, 9);
    expect((at.y - near.y) / near.k).toBeCloseTo(at.y, 9);
  });
  it('never beyond its ends, nor out of what is drawn', () => {
    const act = fc.oneof(
      fc.record({ by: fc.constantFrom(0.5, 2, 1.3), x: fc.nat(720), y: fc.nat(475) }),
      fc.record({ dx: fc.integer({ min: -900, max: 900 }), dy: fc.integer({ min: -900, max: 900 }) }),
    );
    fc.assert(
      fc.property(fc.array(act, { maxLength: 30 }), (acts) => {
        const view = acts.reduce(
          (before, one) =>
            'by' in one ? zoomView(before, one.by, one, size) : moveView(before, one.dx, one.dy, size),
          WHOLE,
        );
        expect(view.k).toBeGreaterThanOrEqual(LEAST_ZOOM);
        expect(view.k).toBeLessThanOrEqual(MOST_ZOOM);
        // The left and right ends of the screen, on the plain map: drawn from -1 to 2 widths.
        expect(-view.x / view.k).toBeGreaterThanOrEqual(-size.width - 1e-6);
        expect((size.width - view.x) / view.k).toBeLessThanOrEqual(2 * size.width + 1e-6);
      }),
    );
  });
});

it.each([
  [1, 10],
  [9, 5],
  [44, 1],
  [60, 1],
  [90, 0.5],
  [500, 0.1],
  [10_000, 0.05],
])('%i px a degree: cells of %f°', (px, step) => expect(stepFor(px)).toBe(step));

describe('words on the map', () => {
  const mark = (id: string, x: number, y: number, more = {}) => ({
    id,
    x,
    y,
    radius: 20,
    count: 12,
    name: 'Franklin',
    ...more,
  });
  it('stand where there is room', () => {
    const { counts, names } = chooseWords([mark('a', 100, 100), mark('b', 300, 100)]);
    expect([...counts]).toEqual(['a', 'b']);
    expect([...names]).toEqual(['a', 'b']);
  });
  it.each([
    [
      'two counts on one spot: the first is written',
      [mark('a', 100, 100), mark('b', 104, 100)],
      ['a'],
      ['a'],
    ],
    ['a name over another mark', [mark('a', 100, 100), mark('b', 100, 140)], ['a', 'b'], ['b']],
    ['a mark too small for its count', [mark('a', 100, 100, { radius: 6 })], [], ['a']],
    ['a place without a name', [mark('a', 100, 100, { name: '' })], ['a'], []],
  ])('%s', (_, marks, counts, names) => {
    const chosen = chooseWords(marks);
    expect([...chosen.counts]).toEqual(counts);
    expect([...chosen.names]).toEqual(names);
  });
});

it('the area of a mark says its count', () => {
  expect(radiusOf(50, 100) ** 2 / radiusOf(100, 100) ** 2).toBeCloseTo(0.5, 9);
  expect(radiusOf(1, 100_000)).toBeGreaterThan(3);
});

it.each([
  [1, [1]],
  [4, [1, 4]],
  [85, [1, 20, 85]],
  [2000, [1, 500, 2000]],
])('the key of at most %i', (most, expected) => expect(keyCounts(most)).toEqual(expected));

it.each([
  [[], 'Place not named'],
  [['Knox, Ohio'], 'Knox, Ohio'],
  [['Knox, Ohio', 'Licking, Ohio'], 'Knox, Ohio; Licking, Ohio'],
  [['A', 'B', 'C'], 'A; B and more'],
])('%j', (places, expected) => expect(sayPlaces({ places })).toBe(expected));
