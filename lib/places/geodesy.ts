import { Geodesic } from 'geographiclib-geodesic';
import { forward as mgrsForward } from 'mgrs';
import proj4 from 'proj4';

/** Decimal degrees, latitude north and longitude east positive. */
export interface Point {
  latitude: number;
  longitude: number;
}

/** Equatorial radius (m) and flattening of WGS84, EPSG:7030. */
const WGS84_RADIUS_M = 6378137;
const WGS84_FLATTENING = 1 / 298.257223563;

const RADIANS = Math.PI / 180;
const wgs84 = Geodesic.WGS84;

/** Longitude brought into −180 (excluded) … 180 degrees. */
export function wrapLongitude(longitude: number): number {
  const wrapped = ((((longitude + 180) % 360) + 360) % 360) - 180;
  return wrapped === -180 ? 180 : wrapped;
}

/** Shortest distance on the ellipsoid in metres and the azimuth at the start in degrees clockwise from north. */
export function measureGeodesic(from: Point, to: Point): { distanceM: number; azimuthDegrees: number } {
  const solved = wgs84.Inverse(from.latitude, from.longitude, to.latitude, to.longitude);
  return { distanceM: solved.s12 ?? 0, azimuthDegrees: ((solved.azi1 ?? 0) + 360) % 360 };
}

/** The point reached from `from` after `distanceM` metres on the given azimuth (degrees clockwise from north). */
export function travelGeodesic(from: Point, azimuthDegrees: number, distanceM: number): Point {
  const solved = wgs84.Direct(from.latitude, from.longitude, azimuthDegrees, distanceM);
  return { latitude: solved.lat2 ?? Number.NaN, longitude: wrapLongitude(solved.lon2 ?? Number.NaN) };
}

/** A closed ring of [longitude, latitude] at `radiusM` around a point, counterclockwise as GeoJSON wants it. */
export function drawUncertaintyRing(centre: Point, radiusM: number, corners = 72): [number, number][] {
  const ring: [number, number][] = [];
  for (let corner = 0; corner < corners; corner += 1) {
    const { latitude, longitude } = travelGeodesic(centre, 360 - (corner * 360) / corners, radiusM);
    ring.push([longitude, latitude]);
  }
  const [first] = ring;
  return first ? [...ring, first] : ring;
}

/** Metres in one degree of latitude and of longitude at a latitude, from the two radii of curvature. */
export function measureDegree(latitude: number): { latitudeM: number; longitudeM: number } {
  const e2 = WGS84_FLATTENING * (2 - WGS84_FLATTENING);
  const root = Math.sqrt(1 - e2 * Math.sin(latitude * RADIANS) ** 2);
  const meridian = (WGS84_RADIUS_M * (1 - e2)) / root ** 3;
  const normal = WGS84_RADIUS_M / root;
  return { latitudeM: RADIANS * meridian, longitudeM: RADIANS * normal * Math.cos(latitude * RADIANS) };
}

export interface UtmPosition {
  zone: number;
  hemisphere: 'north' | 'south';
  eastingM: number;
  northingM: number;
}

/** Datums that a grid reference may be printed on; the code is that of the geographic system in the EPSG list. */
const GRID_DATUMS = {
  'EPSG:4326': '+datum=WGS84',
  'EPSG:4269': '+ellps=GRS80',
  'EPSG:4267': '+ellps=clrk66',
  'EPSG:4230': '+ellps=intl',
} as const;
export type GridDatum = keyof typeof GRID_DATUMS;

function utmDefinition(zone: number, hemisphere: UtmPosition['hemisphere'], datum: GridDatum): string {
  return `+proj=utm +zone=${zone} ${hemisphere === 'south' ? '+south ' : ''}${GRID_DATUMS[datum]} +units=m +no_defs`;
}

/** UTM metres to latitude and longitude on the same datum: the projection is undone, the datum is not shifted. */
export function fromUtm(position: UtmPosition, datum: GridDatum = 'EPSG:4326'): Point {
  const geographic = `+proj=longlat ${GRID_DATUMS[datum]} +no_defs`;
  const definition = utmDefinition(position.zone, position.hemisphere, datum);
  const [longitude, latitude] = proj4(definition, geographic, [position.eastingM, position.northingM]);
  return { latitude: latitude ?? Number.NaN, longitude: longitude ?? Number.NaN };
}

/** The UTM zone of a point, with the exceptions of southern Norway and Svalbard. */
export function findUtmZone({ latitude, longitude }: Point): number {
  if (latitude >= 56 && latitude < 64 && longitude >= 3 && longitude < 12) return 32;
  if (latitude >= 72 && latitude <= 84 && longitude >= 0 && longitude < 42) {
    if (longitude < 9) return 31;
    if (longitude < 21) return 33;
    return longitude < 33 ? 35 : 37;
  }
  return longitude === 180 ? 60 : Math.floor((wrapLongitude(longitude) + 180) / 6) + 1;
}

/** Latitude and longitude to UTM metres on the same datum, in the given zone or the usual one. */
export function toUtm(point: Point, datum: GridDatum = 'EPSG:4326', zone = findUtmZone(point)): UtmPosition {
  const hemisphere = point.latitude < 0 ? 'south' : 'north';
  const geographic = `+proj=longlat ${GRID_DATUMS[datum]} +no_defs`;
  const projected = proj4(geographic, utmDefinition(zone, hemisphere, datum), [
    point.longitude,
    point.latitude,
  ]);
  const [eastingM = Number.NaN, northingM = Number.NaN] = projected;
  return { zone, hemisphere, eastingM, northingM };
}

/** MGRS reference of a WGS84 point; digits 5 names a square of 1 m, 0 one of 100 km (truncated, never rounded). */
export function toMgrs(point: Point, digits = 5): string {
  return mgrsForward([point.longitude, point.latitude], digits);
}
