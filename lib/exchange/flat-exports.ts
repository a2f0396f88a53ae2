import { once } from 'node:events';
import type { Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { stringify } from 'csv-stringify';
import type { ExportBird, ExportHolder } from '@/lib/exchange/export-types';
import { mapOccurrence } from '@/lib/exchange/map-bird';
import { OCCURRENCE } from '@/lib/exchange/terms';
import { drawUncertaintyRing } from '@/lib/places/public-rules';

/** Column heads of Simple Darwin Core: the plain term names. */
export const SIMPLE_COLUMNS: readonly string[] = OCCURRENCE.columns.map((column) =>
  column.slice(column.indexOf(':') + 1),
);

/**
 * Simple Darwin Core: one CSV, one line a bird, term names as heads. People open it in spreadsheets, so text that
 * a spreadsheet would take for a formula gets a leading apostrophe; numbers stay numbers.
 */
export async function writeSimpleCsv(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  holder: ExportHolder,
): Promise<number> {
  const lines = stringify({
    header: true,
    columns: [...SIMPLE_COLUMNS],
    bom: true,
    cast: { string: neutraliseFormula },
  });
  const written = pipeline(lines, out);
  written.catch(() => undefined);
  let count = 0;
  for await (const bird of birds) {
    const row = mapOccurrence(bird, holder);
    if (!lines.write(OCCURRENCE.columns.map((column) => row[column] ?? ''))) await once(lines, 'drain');
    count += 1;
  }
  lines.end();
  await written;
  return count;
}

/** A spreadsheet runs what begins with = + - @ or a tab; plain numbers with a sign are left alone. */
export function neutraliseFormula(text: string): string {
  return /^[=+\-@\t\r]/.test(text) && !/^[+-]?\d+(?:[.,]\d+)?$/.test(text) ? `'${text}` : text;
}

export interface GeoFeature {
  type: 'Feature';
  id: string;
  geometry: { type: 'Point'; coordinates: [number, number] } | null;
  properties: Record<string, string | number | boolean | null>;
}

/** A bird as a GeoJSON feature (RFC 7946: WGS84, longitude first); generalised like every other export. */
export function mapFeature(bird: ExportBird, holder: ExportHolder): GeoFeature {
  const row = mapOccurrence(bird, holder);
  const [longitude, latitude] = [row['dwc:decimalLongitude'], row['dwc:decimalLatitude']];
  const properties: GeoFeature['properties'] = {};
  for (const column of OCCURRENCE.columns) {
    const value = row[column];
    if (value !== null && value !== undefined) properties[column.slice(column.indexOf(':') + 1)] = value;
  }
  const located = typeof longitude === 'number' && typeof latitude === 'number';
  return {
    type: 'Feature',
    id: bird.occurrenceId,
    geometry: located ? { type: 'Point', coordinates: [longitude, latitude] } : null,
    properties,
  };
}

/** A feature collection written as a stream, one feature a line. */
export async function* writeGeoJson(
  birds: AsyncIterable<ExportBird>,
  holder: ExportHolder,
): AsyncGenerator<string> {
  yield '{"type":"FeatureCollection","features":[';
  let first = true;
  for await (const bird of birds) {
    yield `${first ? '\n' : ',\n'}${JSON.stringify(mapFeature(bird, holder))}`;
    first = false;
  }
  yield '\n]}\n';
}

/** The circle of a feature's uncertainty as a polygon, for maps; null without both. */
export function mapUncertaintyCircle(
  feature: GeoFeature,
): { type: 'Polygon'; coordinates: [number, number][][] } | null {
  const radiusM = feature.properties.coordinateUncertaintyInMeters;
  if (!feature.geometry || typeof radiusM !== 'number' || radiusM <= 0) return null;
  const [longitude, latitude] = feature.geometry.coordinates;
  return { type: 'Polygon', coordinates: [drawUncertaintyRing({ latitude, longitude }, radiusM)] };
}
