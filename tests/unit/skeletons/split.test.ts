import { describe, expect, it } from 'vitest';
import { ELEMENT_IDS, elementOf, sidesOf } from '@/lib/skeletons/elements';
import { checkConservation } from '@/lib/skeletons/rules/conservation';
import { chosenSides, proposeSides } from '@/lib/skeletons/rules/sides';
import {
  CUT_THROUGH_THE_SHAFT,
  DEFAULT_SPLITS,
  defaultSplit,
  splitBook,
  splitLineSchema,
} from '@/lib/skeletons/rules/split';
import type { BoneEntry } from '@/lib/skeletons/schema';
import { profileFor } from '@/lib/skeletons/taxa';

const styles = Object.keys(DEFAULT_SPLITS);
const taxa = [{}, { family: 'Struthionidae' }, { family: 'Apterygidae' }, { family: 'Alcidae' }];
const sides = ['left', 'right'] as const;
const cases = styles.flatMap((style) =>
  taxa.flatMap((taxon) => sides.flatMap((wing) => sides.map((leg) => ({ style, taxon, wing, leg })))),
);
const placeOf = (entries: BoneEntry[], element: string, side: string, portion = 'whole') =>
  entries.find((one) => one.element === element && one.side === side && one.portion === portion)?.place;

describe('the usual split', () => {
  it('exists for every preparation style', () => {
    expect(styles.sort()).toEqual(
      [
        'skin-with-partial-skeleton',
        'whole-skeleton',
        'spread-wing-with-skin',
        'flat-skin',
        'fluid',
        'tissue-only',
        'discard',
      ].sort(),
    );
  });

  it.each(cases)('balances: $style, $taxon, wing $wing, leg $leg', ({ style, taxon, wing, leg }) => {
    const profile = profileFor(taxon);
    const entries = defaultSplit(style, { wing, leg }, { profile });
    expect(checkConservation(entries, profile)).toEqual({ balanced: true, findings: [] });
  });

  // Common practice, no source.
  it('sends the chosen wing and leg whole to the skeleton and keeps the other side with the skin', () => {
    const entries = defaultSplit('skin-with-partial-skeleton', { wing: 'right', leg: 'left' });
    const limb = (region: string, side: string) =>
      entries.filter((one) => elementOf(one.element).region === region && one.side === side);
    expect(new Set(limb('wing', 'right').map(({ place }) => place))).toEqual(new Set(['skeleton']));
    expect(new Set(limb('wing', 'left').map(({ place }) => place))).toEqual(new Set(['skin']));
    expect(new Set(limb('leg', 'left').map(({ place }) => place))).toEqual(new Set(['skeleton']));
    expect(placeOf(entries, 'tibiotarsus', 'right')).toBe('skin');
    expect(placeOf(entries, 'femur', 'right')).toBe('skeleton');
  });

  it('leaves the bill in the skin and sends the hind skull and tongue bones to the skeleton', () => {
    const entries = defaultSplit('skin-with-partial-skeleton', { wing: 'left', leg: 'left' });
    expect(placeOf(entries, 'cranium', 'unpaired', 'distal')).toBe('skin');
    expect(placeOf(entries, 'cranium', 'unpaired', 'proximal')).toBe('skeleton');
    expect(placeOf(entries, 'hyoid-body', 'unpaired')).toBe('skeleton');
    expect(placeOf(entries, 'pygostyle', 'unpaired')).toBe('skin');
    expect(placeOf(entries, 'sternum', 'unpaired')).toBe('skeleton');
  });

  // Read in a university museum's guide: humeri cut distal to the shoulder, the leg just distal to the knee.
  it('can cut through the shaft instead', () => {
    const lines = [...(DEFAULT_SPLITS['skin-with-partial-skeleton'] ?? []), ...CUT_THROUGH_THE_SHAFT];
    const entries = splitBook(lines, { wing: 'right', leg: 'right' });
    expect(placeOf(entries, 'humerus', 'left', 'proximal')).toBe('skeleton');
    expect(placeOf(entries, 'humerus', 'left', 'distal')).toBe('skin');
    expect(placeOf(entries, 'tibiotarsus', 'left', 'distal')).toBe('skin');
    expect(placeOf(entries, 'humerus', 'right')).toBe('skeleton');
    expect(checkConservation(entries).balanced).toBe(true);
  });

  it('spreads the chosen wing', () => {
    const entries = defaultSplit('spread-wing-with-skin', { wing: 'left', leg: 'left' });
    expect(placeOf(entries, 'ulna', 'left')).toBe('wing');
    expect(placeOf(entries, 'ulna', 'right')).toBe('skin');
  });

  it('carries over what is broken and leaves what is missing without a place', () => {
    const entries = defaultSplit(
      'skin-with-partial-skeleton',
      { wing: 'left', leg: 'left' },
      {
        damage: [
          { element: 'cranium', side: 'unpaired', state: 'broken' },
          { element: 'femur', side: 'right', state: 'missing' },
        ],
      },
    );
    expect(entries.filter((one) => one.element === 'cranium').map(({ state }) => state)).toEqual([
      'broken',
      'broken',
    ]);
    expect(entries.find((one) => one.element === 'femur' && one.side === 'right')).toMatchObject({
      state: 'missing',
      place: null,
    });
    expect(checkConservation(entries).balanced).toBe(true);
  });

  it('leaves all undecided for a style it does not know', () => {
    const entries = defaultSplit('mummy', { wing: 'left', leg: 'left' });
    expect(entries).toHaveLength(ELEMENT_IDS.reduce((sum, id) => sum + sidesOf(id).length, 0));
    expect(entries.every(({ place }) => place === null)).toBe(true);
  });

  it('is data that its own schema accepts', () => {
    for (const lines of Object.values(DEFAULT_SPLITS)) {
      for (const line of lines) expect(splitLineSchema.safeParse(line).success).toBe(true);
    }
  });
});

describe('the proposal of sides', () => {
  const broken = (
    element: 'ulna' | 'femur' | 'radius',
    side: 'left' | 'right',
    state: 'broken' | 'missing' = 'broken',
  ) => ({
    element,
    side,
    state,
  });
  // Common practice, no source: an intact wing goes to the skeleton.
  it.each([
    ['nothing broken', [], 'right', 'right', true],
    ['a broken right wing', [broken('ulna', 'right')], 'left', 'right', true],
    ['a broken left wing', [broken('ulna', 'left')], 'right', 'right', true],
    ['a broken right leg', [broken('femur', 'right')], 'right', 'left', true],
    [
      'both wings broken, right twice',
      [broken('ulna', 'left'), broken('ulna', 'right'), broken('radius', 'right')],
      'left',
      'right',
      false,
    ],
    [
      'left broken, right missing',
      [broken('ulna', 'left'), broken('ulna', 'right', 'missing')],
      'left',
      'right',
      false,
    ],
    ['both alike', [broken('ulna', 'left'), broken('ulna', 'right')], 'right', 'right', false],
  ] as const)('%s', (_, damage, wing, leg, wingIntact) => {
    const proposal = proposeSides(damage);
    expect(chosenSides(proposal)).toEqual({ wing, leg });
    expect(proposal.wing.intact).toBe(wingIntact);
    expect(proposal.wing.reason).toContain('wing');
  });

  it('follows the usual side of the lab, and says which breaks decided', () => {
    expect(proposeSides([], 'left').leg.side).toBe('left');
    expect(proposeSides([broken('ulna', 'right')]).wing.reason).toBe(
      'The left wing is intact (right ulna broken).',
    );
  });
});
