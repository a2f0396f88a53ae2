import type { GeoPath } from 'd3-geo';
import type { Geometry } from 'geojson';
import { useEffect, useState } from 'react';

/** So long the page may be kept from answering at a time. */
const SLICE_MS = 10;

/** A shape as its single polygons or lines. */
export function piecesOf(shape: Geometry): Geometry[] {
  if (shape.type === 'MultiPolygon')
    return shape.coordinates.map((coordinates) => ({ type: 'Polygon', coordinates }));
  if (shape.type === 'MultiLineString')
    return shape.coordinates.map((coordinates) => ({ type: 'LineString', coordinates }));
  return [shape];
}

/**
 * Draws shapes one after the other and lets the page answer in between.
 * @param isWanted asked after each pause; when it says no, no more is drawn
 * @returns the path of all of them as SVG writes it; null when it was not wanted any more
 */
export async function drawPieces(
  pieces: readonly Geometry[],
  path: GeoPath,
  isWanted: () => boolean,
): Promise<string | null> {
  const drawn: string[] = [];
  let begun = performance.now();
  for (const piece of pieces) {
    drawn.push(path(piece) ?? '');
    if (performance.now() - begun < SLICE_MS) continue;
    await new Promise((go) => setTimeout(go));
    if (!isWanted()) return null;
    begun = performance.now();
  }
  return isWanted() ? drawn.join('') : null;
}

/** The path of these shapes; until all of them are drawn, what was drawn last. */
export function usePath(pieces: readonly Geometry[] | undefined, path: GeoPath): string {
  const [drawn, setDrawn] = useState('');
  useEffect(() => {
    if (pieces === undefined) return;
    let wanted = true;
    void drawPieces(pieces, path, () => wanted).then((all) => {
      if (all !== null) setDrawn(all);
    });
    return () => {
      wanted = false;
    };
  }, [pieces, path]);
  return drawn;
}
