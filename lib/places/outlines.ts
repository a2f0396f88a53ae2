import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { geoBounds, geoContains } from 'd3-geo';
import { feature } from 'topojson-client';
import type { GeometryCollection, Topology } from 'topojson-specification';
import { measureGeodesic, type Point } from '@/lib/places/geodesy';

/** A named outline: a US county or state (Census Bureau, 1:10 million) or a country (Natural Earth, 1:50 million). */
export interface Outline {
  /** FIPS code of a county (5 digits) or state (2), ISO 3166-1 alpha-2 code of a country; empty where there is none. */
  id: string;
  name: string;
  shape: GeoJSON.Feature<GeoJSON.Polygon | GeoJSON.MultiPolygon>;
  bounds: [[number, number], [number, number]];
}

type Named = GeoJSON.Feature<GeoJSON.Geometry, { name: string }>;

function toOutlines(features: Named[], readId: (id: string) => string): Outline[] {
  return features.flatMap((one) => {
    if (one.geometry.type !== 'Polygon' && one.geometry.type !== 'MultiPolygon') return [];
    const shape = one as Outline['shape'];
    return [{ id: readId(String(one.id ?? '')), name: one.properties.name, shape, bounds: geoBounds(shape) }];
  });
}

/** Numeric country codes to letters, by the region aliases every JavaScript engine carries. */
function findCountryCode(numeric: string): string {
  return /^\d{3}$/.test(numeric) ? (Intl.getCanonicalLocales(`und-${numeric}`)[0]?.slice(4) ?? '') : '';
}

interface Outlines {
  counties: Outline[];
  states: Outline[];
  countries: Outline[];
}
let loaded: Outlines | null = null;

type NamedShapes = GeometryCollection<{ name: string }>;

// Read when first needed: imported, the megabytes would stay in the memory of every process beside what is unpacked.
const readAtlas = <T>(file: string): T =>
  JSON.parse(readFileSync(join(process.cwd(), 'node_modules', file), 'utf8')) as T;

/** The outlines, unpacked at the first call and kept. */
export function loadOutlines(): Outlines {
  if (loaded === null) {
    const us = readAtlas<Topology<{ counties: NamedShapes; states: NamedShapes }>>(
      'us-atlas/counties-10m.json',
    );
    const world = readAtlas<Topology<{ countries: NamedShapes }>>('world-atlas/countries-50m.json');
    loaded = {
      counties: toOutlines(feature(us, us.objects.counties).features, (id) => id),
      states: toOutlines(feature(us, us.objects.states).features, (id) => id),
      countries: toOutlines(feature(world, world.objects.countries).features, findCountryCode),
    };
  }
  return loaded;
}

export function isInside({ latitude, longitude }: Point, outline: Outline): boolean {
  const [[west, south], [east, north]] = outline.bounds;
  const inLongitude =
    west <= east ? longitude >= west && longitude <= east : longitude >= west || longitude <= east;
  return (
    inLongitude && latitude >= south && latitude <= north && geoContains(outline.shape, [longitude, latitude])
  );
}

/** Metres from a point to the nearest piece of an outline's border; sides are taken as straight on a local map. */
export function measureDistanceToBorder(point: Point, outline: Outline): number {
  const { coordinates, type } = outline.shape.geometry;
  const rings = type === 'Polygon' ? coordinates : coordinates.flat();
  const scale = Math.cos((point.latitude * Math.PI) / 180);
  const local = ([longitude = 0, latitude = 0]: GeoJSON.Position): [number, number] => {
    const east = ((longitude - point.longitude + 540) % 360) - 180;
    return [east * scale, latitude - point.latitude];
  };
  let nearest: [number, number] = [180, 0];
  for (const ring of rings) {
    for (let corner = 1; corner < ring.length; corner += 1) {
      const [ax, ay] = local(ring[corner - 1] ?? []);
      const [bx, by] = local(ring[corner] ?? []);
      const [dx, dy] = [bx - ax, by - ay];
      const along = Math.min(1, Math.max(0, -(ax * dx + ay * dy) / (dx * dx + dy * dy || 1)));
      const foot: [number, number] = [ax + along * dx, ay + along * dy];
      if (Math.hypot(...foot) < Math.hypot(...nearest)) nearest = foot;
    }
  }
  const latitude = Math.max(-90, Math.min(90, point.latitude + nearest[1]));
  return measureGeodesic(point, { latitude, longitude: point.longitude + nearest[0] / (scale || 1) })
    .distanceM;
}
