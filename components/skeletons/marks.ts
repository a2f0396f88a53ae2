import { phrases } from '@/lib/platform/words/say';
import { ELEMENT_IDS, type ElementId, elementOf, sidesOf } from '@/lib/skeletons/elements';
import { checkConservation } from '@/lib/skeletons/rules/conservation';
import { describeEntry, keyEntries, makeEntry, nameOf } from '@/lib/skeletons/rules/entries';
import type { BoneEntry } from '@/lib/skeletons/schema';
import type { SkeletonProfile } from '@/lib/skeletons/taxa';
import type { Portion, Side } from '@/lib/skeletons/words';
import { centreOf, type PlacedShape, shapeOf } from './geometry/shape';
import type { Point } from './geometry/types';

/** One thing to see and to press on the drawing: an element, or a portion of it. */
export interface BoneMark {
  key: string;
  element: ElementId;
  side: Side;
  portion: Portion;
  /** What the book says; where it says nothing, an entry that is undecided. */
  entry: BoneEntry;
  group: MarkGroup;
  shape: PlacedShape;
  centre: Point;
  /** 'left humerus, whole: skeleton', followed by what is wrong with it. */
  label: string;
  hasProblem: boolean;
}

/** The stops of the tab key, in the order in which they are painted. */
export const MARK_GROUPS = [
  'head',
  'ribs',
  'neck, back and tail',
  'hip',
  'breast and shoulder',
  'left wing',
  'right wing',
  'left leg',
  'right leg',
] as const;
export type MarkGroup = (typeof MARK_GROUPS)[number];

export const GROUP_LABELS: Record<MarkGroup, { label: string }> = phrases({
  head: { label: 'head' },
  ribs: { label: 'ribs' },
  'neck, back and tail': { label: 'neck, back and tail' },
  hip: { label: 'hip' },
  'breast and shoulder': { label: 'breast and shoulder' },
  'left wing': { label: 'left wing' },
  'right wing': { label: 'right wing' },
  'left leg': { label: 'left leg' },
  'right leg': { label: 'right leg' },
});

function groupOf(element: ElementId, side: Side): MarkGroup {
  const { region } = elementOf(element);
  if (region === 'wing') return side === 'right' ? 'right wing' : 'left wing';
  if (region === 'leg') return side === 'right' ? 'right leg' : 'left leg';
  if (region === 'back') return 'neck, back and tail';
  return region === 'shoulder' ? 'breast and shoulder' : region;
}

/** The portions to draw: the whole unless the book has it in parts only, then both parts. */
function portionsToDraw(entries: readonly BoneEntry[]): Portion[] {
  const portions = new Set(entries.map((entry) => entry.portion));
  const parts: Portion[] = ['proximal', 'distal'];
  if (portions.size === 0) return ['whole'];
  if (!portions.has('whole')) return parts;
  return ['whole', ...parts.filter((part) => portions.has(part))];
}

/** Everything to draw for a book, and for what the book is silent about. Elements the taxon lacks are left out. */
export function marksOf(entries: readonly BoneEntry[], profile: SkeletonProfile): BoneMark[] {
  const { findings } = checkConservation(entries, profile);
  const byName = new Map<string, { key: string; entry: BoneEntry }>();
  for (const keyed of keyEntries(entries)) {
    if (!byName.has(nameOf(keyed.entry))) byName.set(nameOf(keyed.entry), keyed);
  }
  return ELEMENT_IDS.flatMap((element) =>
    sidesOf(element).flatMap((side) => {
      const own = entries.filter((entry) => entry.element === element && entry.side === side);
      if (own.length === 0 && profile[element].presence !== 'expected') return [];
      const shape = shapeOf(element, side);
      return portionsToDraw(own).map((portion): BoneMark => {
        const name = nameOf({ element, side, portion });
        const entry = byName.get(name)?.entry ?? makeEntry(element, side, { portion });
        const problems = findings.filter(
          (one) =>
            one.element === element &&
            one.side === side &&
            (one.portion === 'whole' || portion === 'whole' || one.portion === portion),
        );
        return {
          key: name,
          element,
          side,
          portion,
          entry,
          group: groupOf(element, side),
          shape,
          centre: centreOf(shape, portion),
          label: [describeEntry(entry), ...problems.map(({ message }) => message)].join('. '),
          hasProblem: problems.some(({ weight }) => weight === 'stop'),
        };
      });
    }),
  );
}

export type Arrow = 'ArrowLeft' | 'ArrowRight' | 'ArrowUp' | 'ArrowDown';

const HEADINGS: Record<Arrow, Point> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The mark that an arrow key leads to: the nearest ahead, straight ahead counting for more; null at the edge. */
export function neighbourOf(marks: readonly BoneMark[], from: BoneMark, arrow: Arrow): BoneMark | null {
  const [hx, hy] = HEADINGS[arrow];
  let best: { mark: BoneMark; cost: number } | null = null;
  for (const mark of marks) {
    const [dx, dy] = [mark.centre[0] - from.centre[0], mark.centre[1] - from.centre[1]];
    const ahead = dx * hx + dy * hy;
    const aside = Math.abs(dx * hy - dy * hx);
    if (mark.key === from.key || ahead < 1 || aside > ahead * 3) continue;
    const cost = ahead + aside * 2;
    if (!best || cost < best.cost) best = { mark, cost };
  }
  return best?.mark ?? null;
}
