import { geoAzimuthalEqualArea, geoPath } from 'd3-geo';
import type { MultiLineString, MultiPolygon } from 'geojson';
import { feature, mesh } from 'topojson-client';
import us from 'us-atlas/states-10m.json';
import { expect, it } from 'vitest';
import { drawPieces, piecesOf } from '@/components/catalogue/map-paths';

const path = geoPath(
  geoAzimuthalEqualArea()
    .rotate([96, -38])
    .scale(1500)
    .clipExtent([
      [-400, -300],
      [800, 600],
    ]),
).digits(2);
// Outside the project: the Census Bureau's outlines as us-atlas brings them, drawn whole by d3-geo.
const borders = mesh(us, us.objects.states, (a, b) => a !== b) as MultiLineString;
const nation = feature(us, us.objects.nation).features[0]?.geometry as MultiPolygon;

it.each([
  ['borders', borders],
  ['land', nation],
] as const)('draws the pieces of %s as the whole is drawn', async (_name, shape) => {
  const pieces = piecesOf(shape);
  expect(pieces.length).toBeGreaterThan(50);
  expect(await drawPieces(pieces, path, () => true)).toBe(path(shape));
});

it('stops when the drawing is not wanted any more', async () => {
  let asked = 0;
  const many = Array.from({ length: 40 }, () => piecesOf(nation)).flat();
  const drawn = await drawPieces(many, path, () => {
    asked += 1;
    return asked < 2;
  });
  expect(drawn).toBeNull();
  expect(asked).toBe(2);
});
