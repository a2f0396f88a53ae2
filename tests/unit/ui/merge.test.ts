import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findDifferences, isSame, type MergeSide, mergeChoices } from '@/components/ui/merge';

type Bird = { wingMm: number | null; fat: string; sex: string; remarks?: string };
const fields = ['wingMm', 'fat', 'sex', 'remarks'] as const;
const base: Bird = { wingMm: 130, fat: 'none', sex: 'female' };

describe('findDifferences', () => {
  test('a field one person changed settles itself, a field both changed does not', () => {
    const mine: Bird = { ...base, wingMm: 131, fat: 'little' };
    const theirs: Bird = { ...base, wingMm: 129, sex: 'undetermined' };
    expect(findDifferences(fields, mine, theirs, base).map(({ field, settled }) => [field, settled])).toEqual(
      [
        ['wingMm', null],
        ['fat', 'mine'],
        ['sex', 'theirs'],
      ],
    );
  });

  test('both changed alike is no difference', () => {
    expect(findDifferences(fields, { ...base, wingMm: 131 }, { ...base, wingMm: 131 }, base)).toEqual([]);
  });

  test('without the common start everything has to be chosen', () => {
    expect(findDifferences(fields, { ...base, fat: 'heavy' }, base)[0]?.settled).toBeNull();
  });
});

describe('isSame', () => {
  test.each([
    [null, undefined, true],
    [0, null, false],
    ['', null, false],
    [{ a: 1, b: [1, 2] }, { b: [1, 2], a: 1 }, true],
    [{ a: 1 }, { a: 1, b: undefined }, true],
    [[1, 2], [2, 1], false],
    [[], {}, false],
    [1, '1', false],
  ])('%j and %j: %s', (one, other, same) => expect(isSame(one, other)).toBe(same));
});

describe('mergeChoices', () => {
  const bird = fc.record({ wingMm: fc.integer(), fat: fc.string(), sex: fc.string() });
  const choices = fc.record({
    wingMm: fc.constantFrom<MergeSide>('mine', 'theirs'),
    fat: fc.constantFrom<MergeSide>('mine', 'theirs'),
    sex: fc.constantFrom<MergeSide>('mine', 'theirs'),
  });

  test('each field is exactly the chosen one, and neither version is touched', () => {
    fc.assert(
      fc.property(bird, bird, choices, (mine, theirs, chosen) => {
        const before = structuredClone({ mine, theirs });
        const merged = mergeChoices(mine, theirs, chosen);
        expect(merged).toEqual({
          wingMm: (chosen.wingMm === 'mine' ? mine : theirs).wingMm,
          fat: (chosen.fat === 'mine' ? mine : theirs).fat,
          sex: (chosen.sex === 'mine' ? mine : theirs).sex,
        });
        expect({ mine, theirs }).toEqual(before);
      }),
    );
  });
});
