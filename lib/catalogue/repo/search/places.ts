import 'server-only';
import { SHARED_STEP } from '@/lib/places/public-rules';
import { db } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import type { MapBox } from '../../query/schema';
import type { SearchScope } from './resolve';

const { sql, raw } = Prisma;
type Sql = Prisma.Sql;

/** The middle of the shared cell that a coordinate lies in: the arithmetic of lib/places/generalise, in the same doubles. */
const cellMiddle = (column: string, limit: number): Sql => {
  const cells = Math.round((2 * limit) / SHARED_STEP);
  return raw(`round((-${limit} + (LEAST(${cells - 1}, GREATEST(0,
    floor((s.${column} + ${limit}) / ${SHARED_STEP}::float8 + 1e-9))) + 0.5) * ${SHARED_STEP})::numeric, 6)`);
};

/**
 * The point at which this reader is shown bird i of "CatalogueIndex", as numerics `lat` and `lon`, and whether it was
 * coarsened: exact for those who may see it, the middle of a shared cell for a sensitive taxon otherwise. No row where
 * there are no coordinates. Not for visitors, who are shown no points at all.
 */
export function shownPoint(scope: SearchScope): Sql {
  if (scope.approvedOnly)
    return sql`SELECT NULL::numeric AS lat, NULL::numeric AS lon, true AS coarse WHERE FALSE`;
  const coarse = scope.placeExact ? sql`FALSE` : sql`i.sensitive`;
  return sql`SELECT CASE WHEN ${coarse} THEN ${cellMiddle('latitude', 90)} ELSE s.latitude::numeric END AS lat,
      CASE WHEN ${coarse} THEN ${cellMiddle('longitude', 180)} ELSE s.longitude::numeric END AS lon,
      ${coarse} AS coarse
    FROM "Bird" shown JOIN "SalvageRecord" s ON s.id = shown."salvageId"
    WHERE shown.id = i."birdId" AND s.latitude IS NOT NULL AND s.longitude IS NOT NULL`;
}

const numeric = (value: number): Sql => sql`${String(value)}::numeric`;

/** Whether point p is in a box; a box at the pole or the date line has its last line, too. */
export const isInBox = ({ south, north, west, east }: MapBox): Sql =>
  sql`p.lat >= ${numeric(south)} AND (p.lat < ${numeric(north)} OR (p.lat = 90 AND ${numeric(north)} = 90))
    AND p.lon >= ${numeric(west)} AND (p.lon < ${numeric(east)} OR (p.lon = 180 AND ${numeric(east)} = 180))`;

/** Hits in one cell of a grid; `row` and `col` count cells from the equator and the zero meridian, null without a point. */
export type CellRow = {
  row: number | null;
  col: number | null;
  count: number;
  coarse: number;
  latitude: number | null;
  longitude: number | null;
  /** "County, State" of the birds in it, at most five. */
  names: string[];
};

/** A point on the pole or the date line belongs to the last cell; without a point null (LEAST alone would skip it). */
const cellIndex = (column: 'lat' | 'lon', limit: number, step: number): Sql =>
  sql`CASE WHEN p.${raw(column)} IS NOT NULL
    THEN LEAST(floor(p.${raw(column)} / ${numeric(step)}), ${numeric(limit)} / ${numeric(step)} - 1) END::int`;

/** Hits by cells of `step` degrees, at the points that this reader is shown. */
export const countCells = (where: Sql, scope: SearchScope, step: number): Promise<CellRow[]> =>
  db().$queryRaw<CellRow[]>`
    SELECT ${cellIndex('lat', 90, step)} AS row, ${cellIndex('lon', 180, step)} AS col,
      count(*)::int AS count, (count(*) FILTER (WHERE p.coarse))::int AS coarse,
      avg(p.lat)::float8 AS latitude, avg(p.lon)::float8 AS longitude,
      (array_agg(DISTINCT concat_ws(', ', NULLIF(i.county, ''), NULLIF(i."stateProvince", '')))
        FILTER (WHERE i.county <> '' OR i."stateProvince" <> ''))[1:5] AS names
    FROM "CatalogueIndex" i LEFT JOIN LATERAL (${shownPoint(scope)}) p ON true
    WHERE ${where} GROUP BY 1, 2`;

export type NamedRow = {
  country: string;
  stateProvince: string;
  county: string;
  count: number;
  coarse: number;
};

/** Hits by county; those of sensitive taxa by state. */
export const countCounties = (where: Sql): Promise<NamedRow[]> =>
  db().$queryRaw<NamedRow[]>`
    SELECT i.country, i."stateProvince", CASE WHEN i.sensitive THEN '' ELSE i.county END AS county,
      count(*)::int AS count, (count(*) FILTER (WHERE i.sensitive))::int AS coarse
    FROM "CatalogueIndex" i WHERE ${where} GROUP BY 1, 2, 3`;
