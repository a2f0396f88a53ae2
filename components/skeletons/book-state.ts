import { changedElements, mergeBooks, sameBook } from '@/lib/skeletons/rules/merge';
import type { BoneBook, BoneEntry } from '@/lib/skeletons/schema';

/** What a person writes in a bone book. */
export type BookDraft = { entries: readonly BoneEntry[]; explanation: string };

export type BookConflict = ReturnType<typeof mergeBooks>['conflicts'][number];

/** A bone book at a desk: what the server had when writing began, what stands there now, and what cannot be settled. */
export type BookState = {
  base: BoneBook;
  draft: BookDraft;
  /** The entries before each change, the latest last. */
  past: readonly (readonly BoneEntry[])[];
  /** Elements that somebody else changed in another way, and what stands with them then. */
  conflict: {
    theirs: BoneBook;
    elements: BookConflict[];
    explanation: { mine: string; theirs: string } | null;
  } | null;
  /** How often changes by somebody else were taken in. */
  takenIn: number;
  /** Elements changed here that could not be saved, because the book was closed meanwhile. */
  lost: number;
};

export type BookAction =
  | { kind: 'edit'; draft: Partial<BookDraft> }
  | { kind: 'undo' }
  /** The server's answer: to our save, to a refused one, or because somebody else saved. */
  | { kind: 'heard'; book: BoneBook }
  /** Our save went through; what was typed meanwhile stays. */
  | { kind: 'saved'; book: BoneBook; sent: BookDraft }
  | { kind: 'settle'; draft: BookDraft }
  /** What this device kept of an earlier, unsent change. */
  | { kind: 'restore'; base: BoneBook; draft: BookDraft };

const MOST_UNDO = 50;

const draftOf = (book: BoneBook): BookDraft => ({
  entries: book.entries,
  explanation: book.explanation ?? '',
});

export const startBook = (book: BoneBook): BookState => ({
  base: book,
  draft: draftOf(book),
  past: [],
  conflict: null,
  takenIn: 0,
  lost: 0,
});

/** Whether something is written that the server does not have. */
export const isDirty = ({ base, draft }: Pick<BookState, 'base' | 'draft'>): boolean =>
  draft.explanation.trim() !== (base.explanation ?? '') || !sameBook(base.entries, draft.entries);

export function reduceBook(state: BookState, action: BookAction): BookState {
  switch (action.kind) {
    case 'edit': {
      const past = action.draft.entries === undefined ? state.past : [...state.past, state.draft.entries];
      return { ...state, draft: { ...state.draft, ...action.draft }, past: past.slice(-MOST_UNDO) };
    }
    case 'undo': {
      const entries = state.past.at(-1);
      if (entries === undefined) return state;
      return { ...state, draft: { ...state.draft, entries }, past: state.past.slice(0, -1) };
    }
    case 'saved':
      return {
        ...state,
        base: action.book,
        draft: state.draft === action.sent ? draftOf(action.book) : state.draft,
        conflict: null,
      };
    case 'heard':
      return hear(state, action.book);
    case 'restore':
      return hear({ ...state, base: action.base, draft: action.draft }, state.base);
    case 'settle':
      return state.conflict === null
        ? state
        : { ...state, base: state.conflict.theirs, draft: action.draft, conflict: null };
  }
}

/** Takes in what somebody else saved: at once where nobody writes here, merged element by element where somebody does. */
function hear(state: BookState, book: BoneBook): BookState {
  if (!book.abilities.write && isDirty(state)) {
    const lost = Math.max(1, changedElements(state.base.entries, state.draft.entries).length);
    return { ...startBook(book), takenIn: state.takenIn, lost };
  }
  if (book.version <= state.base.version) {
    // The same book, though perhaps locked or opened meanwhile.
    return book.version === state.base.version ? { ...state, base: book } : state;
  }
  if (!isDirty(state)) return { ...state, base: book, draft: draftOf(book), past: [], conflict: null };
  const { merged, conflicts } = mergeBooks(state.base.entries, state.draft.entries, book.entries);
  const [was, mine, theirs] = [state.base.explanation ?? '', state.draft.explanation, book.explanation ?? ''];
  const explanation = mine === was ? theirs : mine;
  const both = mine !== was && theirs !== was && mine !== theirs;
  if (conflicts.length > 0 || both) {
    return {
      ...state,
      conflict: { theirs: book, elements: conflicts, explanation: both ? { mine, theirs } : null },
    };
  }
  // The record's version also moves with other acts at the bench; then nothing of the book was taken in.
  const bookMoved = theirs !== was || !sameBook(state.base.entries, book.entries);
  return {
    ...state,
    base: book,
    draft: { entries: merged, explanation },
    conflict: null,
    takenIn: state.takenIn + (bookMoved ? 1 : 0),
  };
}

/** The draft once the conflict is settled: theirs where it was chosen, mine everywhere else that I changed. */
export function settleConflict(
  state: BookState,
  choose: (field: string) => 'mine' | 'theirs',
): BookDraft | null {
  if (state.conflict === null) return null;
  const { theirs, elements, explanation } = state.conflict;
  const { merged } = mergeBooks(state.base.entries, state.draft.entries, theirs.entries);
  const yielded = elements.filter((one) => choose(conflictField(one)) === 'theirs');
  const kept = merged.filter(
    (entry) => !yielded.some((one) => one.element === entry.element && one.side === entry.side),
  );
  const own = state.draft.explanation === (state.base.explanation ?? '') ? (theirs.explanation ?? '') : null;
  const words = explanation === null ? (own ?? state.draft.explanation) : explanation[choose('explanation')];
  return { entries: [...kept, ...yielded.flatMap((one) => one.theirs)], explanation: words };
}

/** Name of a conflicting element among the fields of a merge. */
export const conflictField = ({ element, side }: Pick<BookConflict, 'element' | 'side'>): string =>
  `${element}/${side}`;
