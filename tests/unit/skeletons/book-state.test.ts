import { describe, expect, it } from 'vitest';
import {
  type BookAction,
  type BookState,
  conflictField,
  isDirty,
  reduceBook,
  settleConflict,
  startBook,
} from '@/components/skeletons/book-state';
import { nameOf, patchBook } from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import type { BoneEntry } from '@/lib/skeletons/schema';
import type { Place } from '@/lib/skeletons/words';
import { makeBook } from './book';

const full = defaultSplit('skin-with-partial-skeleton', { wing: 'right', leg: 'right' });
const move = (entries: readonly BoneEntry[], key: string, place: Place) => patchBook(entries, key, { place });
const placeOf = (entries: readonly BoneEntry[], key: string) =>
  entries.find((entry) => nameOf(entry) === key)?.place;
const run = (...actions: BookAction[]): BookState => actions.reduce(reduceBook, startBook(makeBook(full)));

const STERNUM = 'sternum/unpaired/whole';
const FEMUR = 'femur/left/whole';
const mine = move(full, STERNUM, 'discarded');
const edit: BookAction = { kind: 'edit', draft: { entries: mine } };
const heard = (entries: BoneEntry[], rest = {}): BookAction => ({
  kind: 'heard',
  book: makeBook(entries, { version: 2, ...rest }),
});

describe('a bone book being written', () => {
  it('is dirty until it is saved, and takes a change back', () => {
    expect(isDirty(run())).toBe(false);
    expect(isDirty(run(edit))).toBe(true);
    expect(isDirty(run(edit, { kind: 'undo' }))).toBe(false);
    expect(isDirty(run({ kind: 'edit', draft: { explanation: 'The cat had it.' } }))).toBe(true);
    const state = run(edit);
    const saved = reduceBook(state, {
      kind: 'saved',
      book: makeBook(mine, { version: 2 }),
      sent: state.draft,
    });
    expect(isDirty(saved)).toBe(false);
    expect(saved.base.version).toBe(2);
  });

  it('keeps what is written while a save is on its way', () => {
    const sent = run(edit);
    const later = reduceBook(sent, { kind: 'edit', draft: { entries: move(mine, FEMUR, 'lost') } });
    const saved = reduceBook(later, {
      kind: 'saved',
      book: makeBook(mine, { version: 2 }),
      sent: sent.draft,
    });
    expect(placeOf(saved.draft.entries, FEMUR)).toBe('lost');
    expect(isDirty(saved)).toBe(true);
  });

  it('shows what others saved where nobody writes here, and merges it where somebody does', () => {
    const theirs = move(full, FEMUR, 'lost');
    expect(placeOf(run(heard(theirs)).draft.entries, FEMUR)).toBe('lost');
    const merged = run(edit, heard(theirs));
    expect([placeOf(merged.draft.entries, FEMUR), placeOf(merged.draft.entries, STERNUM)]).toEqual([
      'lost',
      'discarded',
    ]);
    expect(merged).toMatchObject({ conflict: null, takenIn: 1, base: { version: 2 } });
    expect(isDirty(merged)).toBe(true);
    expect(run(edit, heard(full)).takenIn).toBe(0);
  });

  it('hears its own save once more without a conflict, as after a lost answer', () => {
    const state = run(edit, heard(mine));
    expect(state.conflict).toBeNull();
    expect(isDirty(state)).toBe(false);
  });

  it.each([
    ['mine', 'discarded'],
    ['theirs', 'lost'],
  ] as const)('asks where both changed one element, and lets %s stand when chosen', (side, place) => {
    const both = run(edit, heard(move(move(full, STERNUM, 'lost'), FEMUR, 'lost')));
    expect(both.conflict?.elements.map(conflictField)).toEqual(['sternum/unpaired']);
    const draft = settleConflict(both, () => side);
    if (draft === null) throw new Error('nothing to settle');
    const settled = reduceBook(both, { kind: 'settle', draft });
    expect(placeOf(settled.draft.entries, STERNUM)).toBe(place);
    expect(placeOf(settled.draft.entries, FEMUR)).toBe('lost');
    expect(settled).toMatchObject({ conflict: null, base: { version: 2 } });
    expect(settled.draft.entries).toHaveLength(full.length);
  });

  it('asks whose explanation stands when both wrote one', () => {
    const both = run(
      { kind: 'edit', draft: { explanation: 'Eaten by a cat.' } },
      heard(full, { explanation: 'Lost on the road.' }),
    );
    expect(both.conflict?.explanation).toEqual({ mine: 'Eaten by a cat.', theirs: 'Lost on the road.' });
    expect(settleConflict(both, () => 'theirs')?.explanation).toBe('Lost on the road.');
    const one = run(edit, heard(full, { explanation: 'Lost on the road.' }));
    expect(one.draft.explanation).toBe('Lost on the road.');
  });

  it('says how much could not be saved when the book is closed meanwhile', () => {
    const closed = run(edit, heard(full, { abilities: { write: false }, lock: 'In review.' }));
    expect(closed.lost).toBe(1);
    expect(placeOf(closed.draft.entries, STERNUM)).toBe('skeleton');
    expect(run(heard(full, { abilities: { write: false } })).lost).toBe(0);
  });

  it('takes up what this device kept, on top of what the server has now', () => {
    const theirs = makeBook(move(full, FEMUR, 'lost'), { version: 3 });
    const draft = { entries: mine, explanation: '' };
    const state = reduceBook(startBook(theirs), { kind: 'restore', base: makeBook(full), draft });
    expect(placeOf(state.draft.entries, STERNUM)).toBe('discarded');
    expect(placeOf(state.draft.entries, FEMUR)).toBe('lost');
    expect(state.base.version).toBe(3);
  });
});
