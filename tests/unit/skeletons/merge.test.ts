import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ELEMENT_IDS, isDivisible, sidesOf } from '@/lib/skeletons/elements';
import { checkConservation } from '@/lib/skeletons/rules/conservation';
import { divideElement, nameOf, patchBook } from '@/lib/skeletons/rules/entries';
import { changedElements, mergeBooks, sameBook } from '@/lib/skeletons/rules/merge';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import type { BoneEntry } from '@/lib/skeletons/schema';
import { PLACES } from '@/lib/skeletons/words';

const base = defaultSplit('whole-skeleton', { wing: 'right', leg: 'right' });
const place = (book: BoneEntry[], key: string, to: BoneEntry['place']) => patchBook(book, key, { place: to });
const find = (book: BoneEntry[], key: string) => book.find((entry) => nameOf(entry) === key);

/** A book after a few changes at random: places, and cuts where an element may be cut. */
const changed = fc
  .array(
    fc.record({
      element: fc.constantFrom(...ELEMENT_IDS),
      second: fc.boolean(),
      place: fc.constantFrom(...PLACES, null),
      cut: fc.boolean(),
    }),
    { maxLength: 12 },
  )
  .map((acts) =>
    acts.reduce<BoneEntry[]>((book, act) => {
      const side = sidesOf(act.element)[act.second ? 1 : 0] ?? sidesOf(act.element)[0] ?? 'unpaired';
      const key = `${act.element}/${side}/whole`;
      if (!find(book, key)) return book;
      return act.cut && isDivisible(act.element) ? divideElement(book, key) : place(book, key, act.place);
    }, base),
  );

describe('two books that began from one', () => {
  it('keep what each person alone changed', () => {
    const mine = place(base, 'humerus/left/whole', 'skin');
    const theirs = place(base, 'femur/right/whole', 'discarded');
    const { merged, conflicts } = mergeBooks(base, mine, theirs);
    expect(conflicts).toEqual([]);
    expect(find(merged, 'humerus/left/whole')?.place).toBe('skin');
    expect(find(merged, 'femur/right/whole')?.place).toBe('discarded');
  });

  it('ask where both changed one element, also if one of them cut it', () => {
    const mine = place(base, 'humerus/left/whole', 'skin');
    const theirs = divideElement(base, 'humerus/left/whole');
    const { merged, conflicts } = mergeBooks(base, mine, theirs);
    expect(conflicts.map(({ element, side }) => `${element}/${side}`)).toEqual(['humerus/left']);
    expect(merged.filter(({ element, side }) => element === 'humerus' && side === 'left')).toHaveLength(1);
    expect(mergeBooks(base, mine, mine).conflicts).toEqual([]);
  });

  it('never put an element into the merged book twice', () => {
    fc.assert(
      fc.property(changed, changed, (mine, theirs) => {
        const { findings } = checkConservation(mergeBooks(base, mine, theirs).merged);
        const doubles = findings.filter(({ code }) =>
          ['overlap', 'written-twice', 'two-places'].includes(code),
        );
        expect(doubles).toEqual([]);
      }),
    );
  });

  it('are mine where they changed nothing, theirs where I changed nothing', () => {
    fc.assert(
      fc.property(changed, (other) => {
        expect(sameBook(mergeBooks(base, other, base).merged, other)).toBe(true);
        expect(sameBook(mergeBooks(base, base, other).merged, other)).toBe(true);
      }),
    );
  });

  it('are the same whatever the order of their lines', () => {
    expect(sameBook(base, [...base].reverse())).toBe(true);
    expect(changedElements(base, place(base, 'sternum/unpaired/whole', null))).toHaveLength(1);
  });
});
