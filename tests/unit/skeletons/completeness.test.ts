import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareBoxCount, openQuestions } from '@/lib/skeletons/rules/boxing';
import { measureCompleteness } from '@/lib/skeletons/rules/completeness';
import { divideElement, makeEntry, patchBook } from '@/lib/skeletons/rules/entries';
import {
  assessMeasurements,
  BONE_MEASUREMENTS,
  comparableMeasurements,
} from '@/lib/skeletons/rules/measurements';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import { profileFor } from '@/lib/skeletons/taxa';
import { PLACES } from '@/lib/skeletons/words';

const whole = () => defaultSplit('whole-skeleton', { wing: 'left', leg: 'left' });
const partial = () => defaultSplit('skin-with-partial-skeleton', { wing: 'left', leg: 'left' });

describe('completeness', () => {
  it('is one for a whole skeleton, in every region and side', () => {
    const { total, byRegion, bySide } = measureCompleteness(whole());
    expect(total.fraction).toBe(1);
    expect(Object.values(byRegion).map(({ fraction }) => fraction)).toEqual([1, 1, 1, 1, 1, 1, 1]);
    expect(Object.values(bySide).map(({ fraction }) => fraction)).toEqual([1, 1, 1]);
  });

  it('sees one wing and half a skull in a skin with partial skeleton', () => {
    const { byRegionAndSide } = measureCompleteness(partial());
    expect(byRegionAndSide.wing.left.fraction).toBe(1);
    expect(byRegionAndSide.wing.right.fraction).toBe(0);
    // Skull and lower jaw half here, the middle tongue bones wholly: 2 of 3.
    expect(byRegionAndSide.head.unpaired).toMatchObject({ expected: 3, present: 2 });
    expect(byRegionAndSide.leg.right.present).toBe(2);
  });

  it('keeps broken bones as present but not intact', () => {
    const { byRegionAndSide } = measureCompleteness(
      patchBook(whole(), 'ulna/left/whole', { state: 'broken' }),
    );
    expect(byRegionAndSide.wing.left).toMatchObject({ expected: 9, present: 9, intact: 8 });
  });

  it('expects nothing that the taxon lacks', () => {
    const profile = profileFor({ family: 'Alcidae' });
    const entries = defaultSplit('whole-skeleton', { wing: 'left', leg: 'left' }, { profile });
    expect(measureCompleteness(entries, ['skeleton'], profile).total.fraction).toBe(1);
  });

  it('never exceeds one, and its places add up when each bone is in one', () => {
    const patches = fc.array(fc.tuple(fc.nat(), fc.constantFrom(...PLACES)), { maxLength: 40 });
    fc.assert(
      fc.property(patches, (steps) => {
        let entries = whole().filter((entry) => entry.element !== 'patella');
        for (const [pick, place] of steps) {
          const { element, side, portion } = entries[pick % entries.length] ?? makeEntry('ulna', 'left');
          entries = patchBook(entries, `${element}/${side}/${portion}`, { place });
        }
        const parts = PLACES.map((place) => measureCompleteness(entries, [place]).total.present);
        const all = measureCompleteness(entries, PLACES).total;
        expect(all.fraction).toBe(1);
        expect(parts.reduce((sum, part) => sum + part, 0)).toBe(all.present);
      }),
    );
  });
});

describe('measurements that remain', () => {
  const statusOf = (entries: ReturnType<typeof whole>, id: string, side: string) =>
    assessMeasurements(entries).find((one) => one.measurement.id === id && one.side === side)?.usability;

  it('are all comparable on a whole skeleton', () => {
    expect(comparableMeasurements(assessMeasurements(whole()))).toHaveLength(BONE_MEASUREMENTS.length);
  });

  it('are lost in length but kept at one end when a humerus is cut', () => {
    const cut = patchBook(divideElement(whole(), 'humerus/left/whole'), 'humerus/left/distal', {
      place: 'skin',
    });
    expect(statusOf(cut, 'humerus-greatest-length', 'left')).toBe('lost');
    expect(statusOf(cut, 'humerus-proximal-breadth', 'left')).toBe('comparable');
    expect(statusOf(cut, 'humerus-distal-breadth', 'left')).toBe('lost');
    expect(comparableMeasurements(assessMeasurements(cut))).toContain('humerus-greatest-length');
  });

  it('are doubtful at the ends of a broken bone', () => {
    const entries = patchBook(whole(), 'femur/right/whole', { state: 'broken' });
    expect(statusOf(entries, 'femur-greatest-length', 'right')).toBe('lost');
    expect(statusOf(entries, 'femur-distal-breadth', 'right')).toBe('doubtful');
  });

  it('lose the length of a skull whose bill stays in the skin', () => {
    expect(comparableMeasurements(assessMeasurements(partial()))).not.toContain('skull-greatest-length');
    expect(comparableMeasurements(assessMeasurements(partial()))).toContain('skull-greatest-breadth');
  });
});

describe('the count at boxing', () => {
  const linesFor = (entries: ReturnType<typeof whole>) =>
    compareBoxCount(entries, []).map(({ element, side, expected }) => ({
      element,
      side,
      count: expected.min,
    }));
  const verdictOf = (entries: ReturnType<typeof whole>, element: string, count: number) => {
    const lines = linesFor(entries).filter((line) => line.element !== element || line.side === 'right');
    const counted = [...lines, { element, side: 'left', count } as (typeof lines)[number]];
    return compareBoxCount(entries, counted).find((line) => line.element === element && line.side === 'left');
  };

  it('asks nothing when the box holds what the book says', () => {
    expect(openQuestions(compareBoxCount(whole(), linesFor(whole())))).toEqual([]);
    expect(openQuestions(compareBoxCount(partial(), linesFor(partial())))).toEqual([]);
  });

  it('asks about everything when nothing was counted', () => {
    const lines = compareBoxCount(whole(), []);
    expect(new Set(lines.map(({ verdict }) => verdict))).toEqual(new Set(['not-counted']));
  });

  it.each([
    ['humerus', 1, 'agrees'],
    ['humerus', 0, 'short'],
    ['humerus', 2, 'over'],
    ['sclerotic-ring', 14, 'agrees'],
    ['sclerotic-ring', 11, 'agrees'],
    ['sclerotic-ring', 10, 'short'],
    ['sclerotic-ring', 17, 'over'],
    ['toe-4', 5, 'agrees'],
    ['toe-4', 4, 'short'],
  ])('%s, %i counted: %s', (element, count, verdict) => {
    expect(verdictOf(whole(), element, count)?.verdict).toBe(verdict);
  });

  it('opens a question for a missing element and changes nothing', () => {
    const entries = whole();
    const before = structuredClone(entries);
    expect(verdictOf(entries, 'femur', 0)?.question).toBe(
      'The left femur: 0 in the box, 1 by the book. Where is it?',
    );
    expect(entries).toEqual(before);
  });

  it('asks whose a bone is that the book has elsewhere', () => {
    const entries = patchBook(whole(), 'femur/left/whole', { place: 'lost' });
    expect(verdictOf(entries, 'femur', 1)).toMatchObject({ verdict: 'unexpected' });
  });

  it('does not mind splinters of a broken bone', () => {
    const entries = patchBook(whole(), 'femur/left/whole', { state: 'broken' });
    expect(verdictOf(entries, 'femur', 4)?.verdict).toBe('agrees');
  });

  it('expects both pieces of a bone that was cut', () => {
    const entries = divideElement(whole(), 'femur/left/whole');
    expect(verdictOf(entries, 'femur', 2)?.verdict).toBe('agrees');
    expect(verdictOf(entries, 'femur', 1)?.verdict).toBe('short');
  });
});
