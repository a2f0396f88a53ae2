import { ELEMENT_IDS, type ElementId, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import type { Side } from '../words';

/** An element on one side with all its entries: what is merged as one, so that no portion comes to stand twice. */
export interface ElementLines {
  element: ElementId;
  side: Side;
  entries: BoneEntry[];
}

export interface BookMerge {
  /** Both books in one; where both changed an element differently, mine. */
  merged: BoneEntry[];
  /** Elements that both changed, each in another way. */
  conflicts: { element: ElementId; side: Side; mine: BoneEntry[]; theirs: BoneEntry[] }[];
}

/** The book element by element, in the order of the list. */
export function groupByElement(entries: readonly BoneEntry[]): ElementLines[] {
  return ELEMENT_IDS.flatMap((element) =>
    sidesOf(element).map((side) => ({
      element,
      side,
      entries: entries.filter((entry) => entry.element === element && entry.side === side),
    })),
  );
}

const textOf = (entries: readonly BoneEntry[]): string =>
  entries
    .map(({ portion, state, place, materialId, note }) =>
      JSON.stringify([portion, state, place, materialId ?? null, note ?? null]),
    )
    .sort()
    .join();

/** Whether two books say the same, whatever the order of their lines. */
export const sameBook = (one: readonly BoneEntry[], other: readonly BoneEntry[]): boolean =>
  changedElements(one, other).length === 0;

/** The elements whose lines differ between two books. */
export function changedElements(
  before: readonly BoneEntry[],
  after: readonly BoneEntry[],
): { element: ElementId; side: Side; before: BoneEntry[]; after: BoneEntry[] }[] {
  const then = groupByElement(after);
  return groupByElement(before).flatMap(({ element, side, entries }, index) => {
    const now = then[index]?.entries ?? [];
    return textOf(entries) === textOf(now) ? [] : [{ element, side, before: entries, after: now }];
  });
}

/** Two books that began from one: what only one person changed is taken from that person. */
export function mergeBooks(
  base: readonly BoneEntry[],
  mine: readonly BoneEntry[],
  theirs: readonly BoneEntry[],
): BookMerge {
  const [was, own, other] = [groupByElement(base), groupByElement(mine), groupByElement(theirs)];
  const result: BookMerge = { merged: [], conflicts: [] };
  for (const [index, { element, side, entries }] of was.entries()) {
    const [my, their] = [own[index]?.entries ?? [], other[index]?.entries ?? []];
    const [iChanged, theyChanged] = [textOf(my) !== textOf(entries), textOf(their) !== textOf(entries)];
    if (iChanged && theyChanged && textOf(my) !== textOf(their)) {
      result.conflicts.push({ element, side, mine: my, theirs: their });
    }
    result.merged.push(...(iChanged ? my : their));
  }
  return result;
}
