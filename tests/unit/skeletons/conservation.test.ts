import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ELEMENT_IDS, isDivisible, sidesOf } from '@/lib/skeletons/elements';
import { checkConservation, isAccountedFor } from '@/lib/skeletons/rules/conservation';
import {
  describeEntry,
  divideElement,
  joinElement,
  keyEntries,
  makeEntry,
  patchBook,
  patchEntry,
} from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import { type BoneEntry, boneEntrySchema } from '@/lib/skeletons/schema';
import { GENERAL_PROFILE, profileFor, type SkeletonProfile } from '@/lib/skeletons/taxa';
import { ELEMENT_STATES, PLACES, PORTIONS } from '@/lib/skeletons/words';

const book = () => defaultSplit('whole-skeleton', { wing: 'left', leg: 'left' });
const without = (element: string, side: string) =>
  book().filter((entry) => entry.element !== element || entry.side !== side);
const inSkeleton = { place: 'skeleton' } as const;

describe('conservation', () => {
  it('balances when every element is in one place', () => {
    expect(checkConservation(book())).toEqual({ balanced: true, findings: [] });
  });

  it('balances when an element is recorded as missing', () => {
    const entries = patchBook(book(), 'femur/left/whole', { state: 'missing' });
    expect(entries.find((entry) => entry.element === 'femur' && entry.side === 'left')?.place).toBeNull();
    expect(checkConservation(entries).balanced).toBe(true);
  });

  const femurLeft = without('femur', 'left');
  it.each<[string, BoneEntry[], string, string]>([
    ['nothing', [], 'nowhere', 'The left femur is nowhere.'],
    ['an undecided whole', [makeEntry('femur', 'left')], 'nowhere', 'The left femur is nowhere.'],
    [
      'one portion only',
      [makeEntry('femur', 'left', { portion: 'proximal', ...inSkeleton })],
      'nowhere',
      'The left femur, distal part, is nowhere.',
    ],
    [
      'two places',
      [makeEntry('femur', 'left', inSkeleton), makeEntry('femur', 'left', { place: 'skin' })],
      'two-places',
      'The left femur is in 2 places: skeleton, skin.',
    ],
    [
      'the same place twice',
      [makeEntry('femur', 'left', inSkeleton), makeEntry('femur', 'left', inSkeleton)],
      'written-twice',
      'The left femur is written 2 times (skeleton).',
    ],
    [
      'a whole and a part',
      [
        makeEntry('femur', 'left', inSkeleton),
        makeEntry('femur', 'left', { portion: 'distal', place: 'skin' }),
      ],
      'overlap',
      'The left femur is in the book whole and in part at once.',
    ],
    [
      'missing and placed',
      [makeEntry('femur', 'left', { state: 'missing', ...inSkeleton })],
      'missing-but-placed',
      'The left femur is recorded as missing and also as skeleton.',
    ],
  ])('shows %s', (_, own, code, message) => {
    const { balanced, findings } = checkConservation([...femurLeft, ...own]);
    expect(balanced).toBe(false);
    expect(findings.map((one) => [one.code, one.message])).toEqual([[code, message]]);
  });

  it('balances over two portions in two materials', () => {
    const parts = [
      makeEntry('femur', 'left', { portion: 'proximal', ...inSkeleton }),
      makeEntry('femur', 'left', { portion: 'distal', place: 'skin' }),
    ];
    expect(checkConservation([...femurLeft, ...parts]).balanced).toBe(true);
  });

  it('refuses a side or a portion that the element has not', () => {
    const wrong = [
      ...book(),
      makeEntry('sternum', 'left', inSkeleton),
      makeEntry('quadrate', 'left', { portion: 'distal', ...inSkeleton }),
    ];
    const codes = checkConservation(wrong).findings.map(({ code }) => code);
    expect(codes).toContain('wrong-side');
    expect(codes).toContain('not-divisible');
    expect(boneEntrySchema.safeParse({ element: 'sternum', side: 'left' }).success).toBe(false);
    expect(boneEntrySchema.safeParse({ element: 'quadrate', side: 'left', portion: 'distal' }).success).toBe(
      false,
    );
  });

  it('asks for no toe that the taxon lacks, and remarks on one that is there', () => {
    const profile = profileFor({ family: 'Alcidae' });
    const entries = defaultSplit('whole-skeleton', { wing: 'left', leg: 'left' }, { profile });
    expect(entries.some((entry) => entry.element === 'toe-1')).toBe(false);
    expect(checkConservation(entries, profile)).toEqual({ balanced: true, findings: [] });
    const more = checkConservation([...entries, makeEntry('toe-1', 'left', inSkeleton)], profile);
    expect(more.balanced).toBe(true);
    expect(more.findings.map(({ code }) => code)).toEqual(['not-in-taxon']);
  });

  it('does not ask for a kneecap', () => {
    const entries = book().filter((entry) => entry.element !== 'patella');
    expect(checkConservation(entries).balanced).toBe(true);
  });

  it('lets an explanation stand for a balance, but not an empty one', () => {
    const off = checkConservation(femurLeft);
    expect(isAccountedFor(off, null)).toBe(false);
    expect(isAccountedFor(off, '  ')).toBe(false);
    expect(isAccountedFor(off, 'Leg taken by a fox.')).toBe(true);
    expect(isAccountedFor(checkConservation(book()), null)).toBe(true);
  });
});

describe('entries', () => {
  it('describe themselves', () => {
    expect(describeEntry(makeEntry('humerus', 'left', inSkeleton))).toBe('left humerus, whole: skeleton');
    expect(
      describeEntry(makeEntry('cranium', 'unpaired', { portion: 'distal', state: 'broken', place: 'skin' })),
    ).toBe('skull with upper jaw, front part (bill), broken: skin');
    expect(describeEntry(makeEntry('ulna', 'right', { state: 'missing' }))).toBe(
      'right ulna, whole: missing',
    );
  });

  it('forget the material when the place changes, and are there again when placed', () => {
    const id = '0190a0a0-0000-7000-8000-000000000001';
    const entry = makeEntry('ulna', 'left', { place: 'skin', materialId: id });
    expect(patchEntry(entry, { place: 'wing' }).materialId).toBeNull();
    expect(patchEntry(entry, { state: 'broken' }).materialId).toBe(id);
    expect(patchEntry(makeEntry('ulna', 'left', { state: 'missing' }), inSkeleton).state).toBe('whole');
  });

  it('are added by a patch to a name that the book lacks, and only by a real name', () => {
    expect(patchBook([], 'femur/left/distal', inSkeleton)).toEqual([
      makeEntry('femur', 'left', { portion: 'distal', ...inSkeleton }),
    ]);
    for (const key of ['', 'femur/left', 'sternum/left/whole', 'quadrate/left/distal', 'hand/left/whole']) {
      expect(patchBook([], key, inSkeleton)).toEqual([]);
    }
  });

  it('come back from division and joining as they were', () => {
    const before = book();
    const divided = divideElement(before, 'humerus/left/whole');
    expect(divided).toHaveLength(before.length + 1);
    expect(joinElement(divided, 'humerus/left/distal')).toEqual(before);
    expect(divideElement(before, 'quadrate/left/whole')).toEqual(before);
  });

  it('are broken once a part is missing, and missing once both are', () => {
    const parts = divideElement(book(), 'ulna/left/whole');
    const one = patchBook(parts, 'ulna/left/distal', { state: 'missing' });
    const both = patchBook(one, 'ulna/left/proximal', { state: 'missing' });
    const stateOf = (entries: BoneEntry[]) =>
      joinElement(entries, 'ulna/left/distal').find(
        (entry) => entry.element === 'ulna' && entry.side === 'left',
      );
    expect(stateOf(one)).toMatchObject({ portion: 'whole', state: 'broken', place: 'skeleton' });
    expect(stateOf(both)).toMatchObject({ portion: 'whole', state: 'missing', place: null });
  });
});

/** Accounts kept by hand: for each half of each element, who claims it and whether any claim says where it is. */
function balancesByHand(entries: readonly BoneEntry[], profile: SkeletonProfile): boolean {
  if (entries.some((entry) => !boneEntrySchema.safeParse(entry).success)) return false;
  if (entries.some((entry) => entry.state === 'missing' && entry.place)) return false;
  for (const element of ELEMENT_IDS) {
    for (const side of sidesOf(element)) {
      for (const half of ['proximal', 'distal']) {
        const claims = entries.filter(
          (entry) =>
            entry.element === element && entry.side === side && ['whole', half].includes(entry.portion),
        );
        const [claim] = claims;
        if (!claim && profile[element].presence !== 'expected') continue;
        if (claims.length !== 1 || !claim) return false;
        if (claim.place === null && claim.state !== 'missing') return false;
      }
    }
  }
  return true;
}

const entryArbitrary = fc
  .tuple(fc.constantFrom(...ELEMENT_IDS), fc.constantFrom(0, 1), fc.constantFrom(...PORTIONS))
  .filter(([element, , portion]) => portion === 'whole' || isDivisible(element))
  .map(([element, index, portion]) => ({ element, side: sidesOf(element)[index] ?? 'unpaired', portion }));
const patchArbitrary = fc.record(
  {
    state: fc.constantFrom(...ELEMENT_STATES),
    place: fc.option(fc.constantFrom(...PLACES), { nil: null }),
  },
  { requiredKeys: [] },
);
const editArbitrary = fc.oneof(
  fc.record({ act: fc.constant('patch' as const), at: entryArbitrary, patch: patchArbitrary }),
  fc.record({ act: fc.constantFrom('divide' as const, 'join' as const, 'remove' as const), pick: fc.nat() }),
  fc.record({ act: fc.constant('add' as const), at: entryArbitrary, patch: patchArbitrary }),
);

describe('any sequence of edits', () => {
  it('leaves the report agreeing with accounts kept by hand', () => {
    const styles = fc.constantFrom('whole-skeleton', 'skin-with-partial-skeleton', 'fluid', 'unknown-style');
    fc.assert(
      fc.property(styles, fc.array(editArbitrary, { maxLength: 25 }), (style, edits) => {
        let entries = defaultSplit(style, { wing: 'left', leg: 'right' });
        for (const edit of edits) {
          if (edit.act === 'patch') {
            const { element, side, portion } = edit.at;
            entries = patchBook(entries, `${element}/${side}/${portion}`, edit.patch);
          } else if (edit.act === 'add') {
            entries = [...entries, patchEntry(makeEntry(edit.at.element, edit.at.side, edit.at), edit.patch)];
          } else {
            const keys = keyEntries(entries).map(({ key }) => key);
            const key = keys[edit.pick % keys.length] ?? '';
            if (edit.act === 'divide') entries = divideElement(entries, key);
            else if (edit.act === 'join') entries = joinElement(entries, key);
            else entries = keyEntries(entries).flatMap((one) => (one.key === key ? [] : [one.entry]));
          }
        }
        const report = checkConservation(entries);
        expect(report.balanced).toBe(balancesByHand(entries, GENERAL_PROFILE));
        expect(report.balanced).toBe(report.findings.every(({ weight }) => weight === 'remark'));
      }),
      { numRuns: 300 },
    );
  });

  it('of dividing, joining and placing alone never unbalances a balanced book', () => {
    const placed = fc.record({ place: fc.constantFrom(...PLACES) });
    const step = fc.record({
      act: fc.constantFrom('divide', 'join', 'place'),
      pick: fc.nat(),
      patch: placed,
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
        let entries = book();
        for (const { act, pick, patch } of steps) {
          const keys = keyEntries(entries).map(({ key }) => key);
          const key = keys[pick % keys.length] ?? '';
          if (act === 'divide') entries = divideElement(entries, key);
          else if (act === 'join') entries = joinElement(entries, key);
          else entries = patchBook(entries, key, patch);
        }
        expect(checkConservation(entries).balanced).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
