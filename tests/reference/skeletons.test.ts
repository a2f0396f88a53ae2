import { describe, expect, it } from 'vitest';
import { ELEMENTS } from '@/lib/skeletons/elements';
import { STARTING_PROCEDURES } from '@/lib/skeletons/rules/cleaning';
import {
  countIndividualsByPairs,
  countIndividualsBySide,
  countIndividualsInLot,
  estimateRecovery,
} from '@/lib/skeletons/rules/mni';
import { profileFor } from '@/lib/skeletons/taxa';

// Counts and formulas as published (read); the values are computed from them.
describe('individuals from left 21, right 15, pairs 11', () => {
  const counts = { left: 21, right: 15, pairs: 11 };
  it('are at least 25 by L + R − P', () => expect(countIndividualsByPairs(counts)).toBe(25));
  it('recovery is 2P / (L + R) = 0.6111', () => expect(estimateRecovery(counts)).toBeCloseTo(0.6111, 4));
  // White 1953: the commoner side.
  it('are at least 21 by side', () => expect(countIndividualsBySide(21, 15)).toBe(21));
});

describe('the bounds of these counts', () => {
  it('agree when everything pairs, and add up when nothing does', () => {
    expect(countIndividualsByPairs({ left: 4, right: 4, pairs: 4 })).toBe(4);
    expect(countIndividualsByPairs({ left: 4, right: 3, pairs: 0 })).toBe(7);
    expect(estimateRecovery({ left: 0, right: 0, pairs: 0 })).toBeNull();
  });

  it.each([
    [{ left: 2, right: 1, pairs: 2 }],
    [{ left: -1, right: 1, pairs: 0 }],
    [{ left: 1.5, right: 1, pairs: 0 }],
  ])('refuse %o', (counts) => {
    expect(() => countIndividualsByPairs(counts)).toThrow(RangeError);
  });

  it('over a lot are set by its commonest element', () => {
    const lot = [
      { element: 'humerus', left: 3, right: 5 },
      { element: 'tarsometatarsus', left: 7, right: 2 },
    ];
    expect(countIndividualsInLot(lot)).toEqual({ individuals: 7, element: 'tarsometatarsus' });
    expect(countIndividualsInLot([])).toEqual({ individuals: 0, element: null });
  });
});

describe('numbers of bones', () => {
  // Neck of 10–26 vertebrae (read); that atlas and axis are among them is our reading.
  it('of the neck', () => {
    const { cervicals, atlas, axis } = ELEMENTS;
    expect(cervicals.count.min + atlas.count.min + axis.count.min).toBe(10);
    expect(cervicals.count.max + atlas.count.max + axis.count.max).toBe(26);
  });

  // Lima et al. (read): 11–16 in 208 birds of 18 orders. Hadden 2021 (read): penguins 10–17.
  it('of the sclerotic ring', () => {
    expect(ELEMENTS['sclerotic-ring'].count).toEqual({ min: 11, max: 16 });
    expect(profileFor({ order: 'Sphenisciformes' })['sclerotic-ring'].count).toEqual({ min: 10, max: 17 });
  });

  // After Baumel et al. 1993, from memory: phalanges 2-3-4-5, 14 a foot.
  it('of the toes', () => {
    const toes = ['toe-1', 'toe-2', 'toe-3', 'toe-4'] as const;
    expect(toes.map((id) => ELEMENTS[id].count.max)).toEqual([2, 3, 4, 5]);
  });
});

// NPS Conserve O Gram 3/6, citing Strang 1992 (read): 6–10 days at −20 °C.
describe('pest freezing of skeletons', () => {
  it.each(STARTING_PROCEDURES)('takes 6 to 10 days in $id', ({ steps }) => {
    expect(steps.find(({ id }) => id === 'pest-freeze')?.expectedDays).toEqual({ min: 6, max: 10 });
  });
});
