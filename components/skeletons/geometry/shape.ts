import type { ElementId } from '@/lib/skeletons/elements';
import type { Portion, Side } from '@/lib/skeletons/words';
import { COLUMN_SHAPES } from './column';
import { GIRDLE_SHAPES } from './girdle';
import { HEAD_SHAPES } from './head';
import { LEG_SHAPES } from './leg';
import type { BoneShape, Line, Point } from './types';
import { WING_SHAPES } from './wing';

/** The plate: a bird from above, head up, so that its left is on our left. Units are those of the paths. */
export const PLATE = { left: 0, top: -20, width: 1200, height: 1010, midline: 600 } as const;

/** A shape as it stands on the plate, for one side. */
export interface PlacedShape {
  outline: string;
  detail: string;
  cut: Line | null;
  hollow: boolean;
}

const SHAPES: Record<ElementId, BoneShape> = {
  ...HEAD_SHAPES,
  ...COLUMN_SHAPES,
  ...GIRDLE_SHAPES,
  ...WING_SHAPES,
  ...LEG_SHAPES,
};

const COORDINATES = /(-?[\d.]+) (-?[\d.]+)/g;
const tenth = (value: number): number => Math.round(value * 10) / 10;

/** A path on the other side of a vertical axis; every command takes pairs of absolute coordinates. */
const mirrorPath = (path: string, axis: number): string =>
  path.replace(COORDINATES, (_, x: string, y: string) => `${tenth(2 * axis - Number(x))} ${y}`);

/** Mirrored ends change places, so that the proximal part stays on the same hand. */
const mirrorLine = ([x1, y1, x2, y2]: Line, axis: number): Line => [2 * axis - x2, y2, 2 * axis - x1, y1];

function placeShape(shape: BoneShape, side: Side): PlacedShape {
  const { outline, detail = '', cut, axis } = shape;
  const hollow = shape.hollow === true;
  if (side !== 'right') return { outline, detail, cut: cut ?? null, hollow };
  const about = axis ?? PLATE.midline;
  return {
    outline: mirrorPath(outline, about),
    detail: mirrorPath(detail, about),
    cut: cut ? mirrorLine(cut, about) : null,
    hollow,
  };
}

const placed = new Map<string, PlacedShape>();

/** The drawing of an element on a side; left and unpaired are drawn, right is their mirror image. */
export function shapeOf(element: ElementId, side: Side): PlacedShape {
  const key = `${element}/${side}`;
  const known = placed.get(key);
  if (known) return known;
  const shape = placeShape(SHAPES[element], side);
  placed.set(key, shape);
  return shape;
}

/** On which hand of a line a point lies: positive on the proximal side of a cut. */
const handOf = ([x1, y1, x2, y2]: Line, [x, y]: Point): number => (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1);

/** The middle of a shape's points, or of those of one portion: where marks sit and arrow keys aim. */
export function centreOf(shape: PlacedShape, portion: Portion): Point {
  const points = [...shape.outline.matchAll(COORDINATES)].map(([, x, y]): Point => [Number(x), Number(y)]);
  const { cut } = shape;
  const own =
    portion === 'whole' || !cut
      ? points
      : points.filter((point) => handOf(cut, point) > 0 === (portion === 'proximal'));
  const sum = own.reduce<Point>(([sx, sy], [x, y]) => [sx + x, sy + y], [0, 0]);
  return [sum[0] / own.length, sum[1] / own.length];
}

/** The half of the plate on one hand of a cut, as polygon points for a clip path. */
export function halfPlane([x1, y1, x2, y2]: Line, portion: 'proximal' | 'distal'): string {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [dx, dy] = [(x2 - x1) / length, (y2 - y1) / length];
  const reach = PLATE.width + PLATE.height;
  const turn = portion === 'proximal' ? reach : -reach;
  const [ax, ay, bx, by] = [x1 - dx * reach, y1 - dy * reach, x2 + dx * reach, y2 + dy * reach];
  const corners: Point[] = [
    [ax, ay],
    [bx, by],
    [bx - dy * turn, by + dx * turn],
    [ax - dy * turn, ay + dx * turn],
  ];
  return corners.map(([x, y]) => `${tenth(x)},${tenth(y)}`).join(' ');
}
