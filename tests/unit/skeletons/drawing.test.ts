import { describe, expect, it } from 'vitest';
import { centreOf, halfPlane, PLATE, shapeOf } from '@/components/skeletons/geometry/shape';
import { patchOf } from '@/components/skeletons/keys';
import { type Arrow, type BoneMark, marksOf, neighbourOf } from '@/components/skeletons/marks';
import { actOf } from '@/components/ui/shortcuts/table';
import { ELEMENT_IDS, isDivisible, sidesOf } from '@/lib/skeletons/elements';
import { divideElement, makeEntry } from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import { GENERAL_PROFILE, profileFor } from '@/lib/skeletons/taxa';
import { PLACES } from '@/lib/skeletons/words';

const book = () => defaultSplit('whole-skeleton', { wing: 'left', leg: 'left' });
const everySide = ELEMENT_IDS.flatMap((element) => sidesOf(element).map((side) => ({ element, side })));
const pointsOf = (path: string) =>
  [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]): [number, number] => [Number(x), Number(y)]);

const patchFor = (key: string) =>
  patchOf(actOf('bones', { key, ctrlKey: false, metaKey: false, altKey: false }), key);

describe('the drawing', () => {
  it.each(everySide)('has the $side $element inside the plate, in closed outlines', ({ element, side }) => {
    const { outline, detail } = shapeOf(element, side);
    expect(outline).toMatch(/^(M[-\d. ]+(?:[LC][-\d. ]+)+Z)+$/);
    expect(detail).toMatch(/^[MLCZ\d. -]*$/);
    for (const [x, y] of pointsOf(outline)) {
      expect(x).toBeGreaterThanOrEqual(PLATE.left);
      expect(x).toBeLessThanOrEqual(PLATE.left + PLATE.width);
      expect(y).toBeGreaterThanOrEqual(PLATE.top);
      expect(y).toBeLessThanOrEqual(PLATE.top + PLATE.height);
    }
  });

  it.each(ELEMENT_IDS.filter((id) => sidesOf(id).length === 2))('mirrors the %s, left on the left', (id) => {
    const [left, right] = [centreOf(shapeOf(id, 'left'), 'whole'), centreOf(shapeOf(id, 'right'), 'whole')];
    expect(left[0]).toBeLessThan(right[0]);
    expect(left[1]).toBeCloseTo(right[1], 3);
  });

  it.each(ELEMENT_IDS)('has a cut on the %s exactly if it may be cut', (id) => {
    expect(shapeOf(id, sidesOf(id)[0] ?? 'left').cut !== null).toBe(isDivisible(id));
  });

  const limbs = ['humerus', 'radius', 'ulna', 'femur', 'tibiotarsus', 'fibula', 'tarsometatarsus'] as const;
  it.each(limbs.flatMap((id) => (['left', 'right'] as const).map((side) => ({ id, side }))))(
    'has the proximal part of the $side $id nearer the trunk',
    ({ id, side }) => {
      const shape = shapeOf(id, side);
      const root = centreOf(shapeOf(limbs.indexOf(id) < 3 ? 'scapula' : 'hip-bone', side), 'whole');
      const away = (portion: 'proximal' | 'distal') => {
        const [x, y] = centreOf(shape, portion);
        return Math.hypot(x - root[0], y - root[1]);
      };
      expect(away('proximal')).toBeLessThan(away('distal'));
    },
  );

  it('parts the plate into two halves along a cut', () => {
    const inside = (polygon: string, [x, y]: readonly [number, number]) => {
      const corners = polygon.split(' ').map((pair) => pair.split(',').map(Number));
      const hands = corners.map(([ax = 0, ay = 0], index) => {
        const [bx = 0, by = 0] = corners[(index + 1) % corners.length] ?? [];
        return Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));
      });
      return Math.abs(hands.reduce((sum, hand) => sum + hand, 0)) === corners.length;
    };
    const shape = shapeOf('humerus', 'right');
    const cut = shape.cut ?? [0, 0, 0, 0];
    const [near, far] = [centreOf(shape, 'proximal'), centreOf(shape, 'distal')];
    expect(inside(halfPlane(cut, 'proximal'), near)).toBe(true);
    expect(inside(halfPlane(cut, 'proximal'), far)).toBe(false);
    expect(inside(halfPlane(cut, 'distal'), far)).toBe(true);
    expect(inside(halfPlane(cut, 'distal'), near)).toBe(false);
  });
});

describe('the marks', () => {
  const markOf = (entries: ReturnType<typeof book>, key: string) =>
    marksOf(entries, GENERAL_PROFILE).find((mark) => mark.key === key);

  it('show every entry of a balanced book once', () => {
    const marks = marksOf(book(), GENERAL_PROFILE);
    expect(marks).toHaveLength(book().length);
    expect(new Set(marks.map(({ key }) => key)).size).toBe(marks.length);
    expect(marks.some(({ hasProblem }) => hasProblem)).toBe(false);
  });

  it('show an element that the book forgets, as nowhere', () => {
    const entries = book().filter((entry) => entry.element !== 'furcula');
    expect(markOf(entries, 'furcula/unpaired/whole')).toMatchObject({
      hasProblem: true,
      label: 'wishbone, whole: undecided. The wishbone is nowhere.',
    });
  });

  it('show both portions of a divided element, and a lost portion as nowhere', () => {
    const divided = divideElement(book(), 'ulna/left/whole').filter((entry) => entry.portion !== 'distal');
    expect(markOf(divided, 'ulna/left/whole')).toBeUndefined();
    expect(markOf(divided, 'ulna/left/proximal')?.hasProblem).toBe(false);
    expect(markOf(divided, 'ulna/left/distal')?.hasProblem).toBe(true);
  });

  it('say that an element is in two places', () => {
    const entries = [...book(), makeEntry('femur', 'right', { place: 'skin' })];
    expect(markOf(entries, 'femur/right/whole')?.label).toContain('in 2 places: skeleton, skin');
  });

  it('leave out what the taxon lacks', () => {
    const profile = profileFor({ family: 'Alcidae' });
    expect(marksOf([], profile).some(({ element }) => element === 'toe-1')).toBe(false);
  });
});

describe('the keys', () => {
  it('reach every bone by arrows alone', () => {
    const marks = marksOf(book(), GENERAL_PROFILE);
    const seen = new Set<string>();
    const wait = [marks[0] as BoneMark];
    const arrows: Arrow[] = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'];
    for (let mark = wait.pop(); mark; mark = wait.pop()) {
      if (seen.has(mark.key)) continue;
      seen.add(mark.key);
      for (const arrow of arrows) {
        const next = neighbourOf(marks, mark, arrow);
        if (next) wait.push(next);
      }
    }
    expect(marks.map(({ key }) => key).filter((key) => !seen.has(key))).toEqual([]);
  });

  it('go down the left wing from shoulder to tip', () => {
    const marks = marksOf(book(), GENERAL_PROFILE);
    const start = marks.find(({ key }) => key === 'humerus/left/whole') as BoneMark;
    const next = neighbourOf(marks, start, 'ArrowLeft');
    expect(['radius', 'ulna']).toContain(next?.element);
    const tip = marks.find(({ key }) => key === 'major-digit/left/whole') as BoneMark;
    expect(neighbourOf(marks, tip, 'ArrowLeft')).toBeNull();
  });

  it.each(PLACES.map((place, index) => [`${index + 1}`, place]))('%s is %s', (key, place) => {
    expect(patchFor(key)).toEqual({ place });
  });

  it.each([
    ['0', { place: null }],
    ['b', { state: 'broken' }],
    ['M', { state: 'missing' }],
    ['w', { state: 'whole' }],
    ['9', null],
    ['x', null],
    ['Tab', null],
    ['F1', null],
  ])('%s gives %o', (key, patch) => {
    expect(patchFor(key)).toEqual(patch);
  });
});
