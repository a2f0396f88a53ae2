import { type GeoProjection, geoAzimuthalEqualArea, geoBounds, geoCentroid } from 'd3-geo';
import { MAP_STEPS, type MapMark, type MapStep } from '@/lib/catalogue/figures-wire';
import { say } from '@/lib/platform/words/say';

export type Size = { width: number; height: number };
type Place = { latitude: number; longitude: number };

/** Least width of what is shown, in degrees: a single bird does not fill the map with one street. */
const LEAST_SPAN = 1;
const PAD_PX = 36;

export const heightFor = (width: number): number => Math.round(Math.min(540, Math.max(280, width * 0.66)));

/**
 * An equal-area map centred on these places with all of them in it, so that equal marks lie on equal land. Drawn around
 * the view as far as it may be moved; of no place at all: the world.
 */
export function fitProjection(places: readonly Place[], { width, height }: Size): GeoProjection {
  const projection = geoAzimuthalEqualArea().clipAngle(175);
  const centre = [width / 2, height / 2] as [number, number];
  if (places.length === 0)
    return projection.fitExtent(
      [
        [PAD_PX, PAD_PX],
        [width - PAD_PX, height - PAD_PX],
      ],
      { type: 'Sphere' },
    );
  const points = {
    type: 'MultiPoint' as const,
    coordinates: places.map(({ longitude, latitude }) => [longitude, latitude]),
  };
  const [[west, south], [east, north]] = geoBounds(points);
  const across = east < west ? east + 360 : east;
  const middle: [number, number] =
    across - west > 180 ? geoCentroid(points) : [(west + across) / 2, (south + north) / 2];
  projection.rotate([-middle[0], -middle[1]]).translate(centre).scale(1000);
  const reach = { x: 0, y: 0 };
  for (const place of points.coordinates) {
    const [x, y] = projection(place as [number, number]) ?? centre;
    reach.x = Math.max(reach.x, Math.abs(x - centre[0]));
    reach.y = Math.max(reach.y, Math.abs(y - centre[1]));
  }
  const least = (1000 * LEAST_SPAN * Math.PI) / 360;
  const fit = Math.min(
    (width / 2 - PAD_PX) / Math.max(reach.x, least),
    (height / 2 - PAD_PX) / Math.max(reach.y, least),
  );
  return projection.scale(1000 * fit).clipExtent([
    [-width, -height],
    [2 * width, 2 * height],
  ]);
}

/** How the map is enlarged and moved: a point of the plain map stands at `x + k · point`. */
export type View = { k: number; x: number; y: number };
export const WHOLE: View = { k: 1, x: 0, y: 0 };
export const LEAST_ZOOM = 0.5;
export const MOST_ZOOM = 64;

const clamp = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value));

/** No farther than the drawn part of the map reaches. */
const keepInside = ({ k, x, y }: View, { width, height }: Size): View => ({
  k,
  x: clamp(x, width - 2 * width * k, width * k),
  y: clamp(y, height - 2 * height * k, height * k),
});

/** Enlarged by a factor around a point of the screen, which stays where it is. */
export function zoomView(view: View, by: number, at: { x: number; y: number }, size: Size): View {
  const k = clamp(view.k * by, LEAST_ZOOM, MOST_ZOOM);
  const ratio = k / view.k;
  return keepInside({ k, x: at.x - (at.x - view.x) * ratio, y: at.y - (at.y - view.y) * ratio }, size);
}

export const moveView = (view: View, dx: number, dy: number, size: Size): View =>
  keepInside({ ...view, x: view.x + dx, y: view.y + dy }, size);

const CELL_PX = 44;
/** Pixels that a degree of latitude takes. */
export const degreePx = (scale: number, k: number): number => (scale * k * Math.PI) / 180;

/** The finest grid whose cells are not too small to tell apart. */
export const stepFor = (pxPerDegree: number): MapStep =>
  MAP_STEPS.find((step) => step * pxPerDegree >= CELL_PX) ?? 10;

const LARGEST_PX = 26;
const SMALLEST_PX = 4;
/** Radius of a mark, so that its area says the count; the smallest are drawn large enough to be seen. */
export const radiusOf = (count: number, most: number): number =>
  Math.max(SMALLEST_PX, LARGEST_PX * Math.sqrt(count / Math.max(1, most)));

export type DrawnMark = { id: string; x: number; y: number; radius: number; count: number; name: string };
type Box = { left: number; right: number; top: number; bottom: number };

const LETTER_PX = 8;
const LINE_PX = 16;
const boxAround = (x: number, y: number, halfWidth: number, halfHeight: number): Box => ({
  left: x - halfWidth,
  right: x + halfWidth,
  top: y - halfHeight,
  bottom: y + halfHeight,
});
const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/**
 * Which counts are written into their marks and which names below them, so that no words lie over each other and no
 * name over another mark. Marks that stand first have the first right to their words.
 */
export function chooseWords(marks: readonly DrawnMark[]): { counts: Set<string>; names: Set<string> } {
  const taken: Box[] = [];
  const choose = (boxOf: (mark: DrawnMark) => Box, isFree: (mark: DrawnMark, box: Box) => boolean) =>
    new Set(
      marks.flatMap((mark) => {
        const box = boxOf(mark);
        if (taken.some((other) => meet(other, box)) || !isFree(mark, box)) return [];
        taken.push(box);
        return [mark.id];
      }),
    );
  const counts = choose(
    ({ x, y, count }) => boxAround(x, y, (String(count).length * LETTER_PX) / 2 + 1, LINE_PX / 2),
    ({ radius, count }) => radius >= (String(count).length * LETTER_PX) / 2 + 5,
  );
  const around = marks.map(({ id, x, y, radius }) => ({ id, box: boxAround(x, y, radius, radius) }));
  const names = choose(
    ({ x, y, radius, name }) => boxAround(x, y + radius + 10, (name.length * LETTER_PX) / 2, LINE_PX / 2),
    (mark, box) => mark.name !== '' && !around.some((other) => other.id !== mark.id && meet(other.box, box)),
  );
  return { counts, names };
}

/** Counts for the key: the largest, a middle and a small one, as round figures. */
export function keyCounts(most: number): number[] {
  const round = (value: number) => {
    const power = 10 ** Math.floor(Math.log10(value));
    return Math.max(1, Math.round(value / power) * power);
  };
  return [...new Set([1, round(Math.max(1, most / 4)), most])].filter((count) => count <= most);
}

/** What a mark stands for, in words. */
export function sayPlaces({ places }: Pick<MapMark, 'places'>): string {
  const [first, second] = places;
  if (first === undefined) return say('Place not named');
  if (second === undefined) return first;
  return places.length === 2 ? `${first}; ${second}` : say('{first}; {second} and more', { first, second });
}
