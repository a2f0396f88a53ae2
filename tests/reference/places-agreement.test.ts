import { Geodesic } from 'geographiclib-geodesic';
import { forward, toPoint } from 'mgrs';
import proj4 from 'proj4';
import { describe, expect, it, vi } from 'vitest';
import { formatCoordinates, parseCoordinates } from '@/lib/places/coordinates';
import { findUtmZone, measureGeodesic, travelGeodesic } from '@/lib/places/geodesy';

/** Numbers that look random and are the same in every run (mulberry32). */
function seededRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

// Ten thousand points take longer than a test usually may on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const random = seededRandom(20261125);
/** Even over the sphere, short of the poles where UTM ends (80 S to 84 N). */
const points = Array.from({ length: 10_000 }, () => ({
  latitude: (Math.asin(2 * random() - 1) * 180) / Math.PI,
  longitude: 360 * random() - 180,
})).map((point) => ({ ...point, latitude: Math.max(-79.9, Math.min(83.9, point.latitude)) }));
const BANDS = 'CDEFGHJKLMNPQRSTUVWX';

function parse(text: string) {
  const parsed = parseCoordinates(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.message}`);
  return parsed.value;
}

describe('agreement with the libraries on 10,000 points', () => {
  it('UTM text: proj4 projects, the reader comes back to the centimetre', () => {
    let worst = 0;
    for (const point of points) {
      const zone = findUtmZone(point);
      const south = point.latitude < 0 ? '+south ' : '';
      const [easting = 0, northing = 0] = proj4(`+proj=utm +zone=${zone} ${south}+datum=WGS84`, [
        point.longitude,
        point.latitude,
      ]);
      // Band S is also the letter of the southern hemisphere, so the hemisphere is written out, as a person must.
      const band = BANDS[Math.min(19, Math.floor((point.latitude + 80) / 8))];
      const side = band === 'S' ? ' north' : band;
      const read = parse(`${zone}${side} ${easting.toFixed(3)} ${northing.toFixed(3)}`);
      const { s12 = Number.NaN } = Geodesic.WGS84.Inverse(
        point.latitude,
        point.longitude,
        read.latitude,
        read.longitude,
      );
      worst = Math.max(worst, s12);
    }
    expect(worst).toBeLessThan(0.01);
  });

  it('MGRS text: the reader gives the very point the library gives, and it lies in the square', () => {
    let worst = 0;
    for (const point of points) {
      const reference = forward([point.longitude, point.latitude], 5);
      const read = parse(reference);
      expect([read.longitude, read.latitude]).toEqual(toPoint(reference));
      worst = Math.max(worst, measureGeodesic(point, read).distanceM);
    }
    // Half the diagonal of a square metre is 0.71 m; the rest is the truncation at the square's edge.
    expect(worst).toBeLessThan(1.5);
  });

  it('degrees, minutes, seconds: back within half of the last digit', () => {
    for (const point of points) {
      const read = parse(formatCoordinates(point, 'degrees minutes seconds', 2));
      expect(Math.abs(read.latitude - point.latitude)).toBeLessThan(0.0051 / 3600);
      expect(Math.abs(read.longitude - point.longitude)).toBeLessThan(0.0051 / 3600);
    }
  });

  it('distances and azimuths: there and back again by the geodesic library', () => {
    for (let index = 1; index < points.length; index += 1) {
      const [from, to] = [points[index - 1], points[index]];
      if (!from || !to) throw new Error('no point');
      const { distanceM, azimuthDegrees } = measureGeodesic(from, to);
      const direct = Geodesic.WGS84.Inverse(from.latitude, from.longitude, to.latitude, to.longitude);
      expect(distanceM).toBe(direct.s12);
      const reached = travelGeodesic(from, azimuthDegrees, distanceM);
      expect(measureGeodesic(reached, to).distanceM).toBeLessThan(1e-6);
    }
  });
});
