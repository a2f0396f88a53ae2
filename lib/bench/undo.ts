import type { FieldId, FieldValue } from '@/lib/bench/fields';

/** An entry of a record as undoing needs it. */
export interface UndoEntry {
  id: string;
  field: FieldId;
  value: FieldValue | null;
  unit: string | null;
  method: string | null;
  verbatim: string | null;
  by: string;
  /** The entry that this one took back. */
  undoesId: string | null;
  /** Came too late to hold: made before what somebody else had written. */
  outranked: boolean;
}

/** The entries of each field that still count, the last one holding: what was taken back is gone from it. */
export function stacksOf(entries: readonly UndoEntry[]): Map<FieldId, UndoEntry[]> {
  const stacks = new Map<FieldId, UndoEntry[]>();
  for (const entry of entries) {
    if (entry.outranked) continue;
    const stack = stacks.get(entry.field) ?? [];
    if (entry.undoesId !== null && stack.at(-1)?.id === entry.undoesId) stack.pop();
    else stack.push(entry);
    stacks.set(entry.field, stack);
  }
  return stacks;
}

/**
 * The last change of this person that still holds, and the entry that the field goes back to (null: it was empty).
 * What somebody else has changed since is not touched. Null when there is nothing to take back.
 * @param entries of the record in the order in which they arrived
 */
export function findUndo(
  entries: readonly UndoEntry[],
  by: string,
): { undone: UndoEntry; before: UndoEntry | null } | null {
  const order = new Map(entries.map(({ id }, at) => [id, at]));
  const tops = [...stacksOf(entries).values()].flatMap((stack) => {
    const undone = stack.at(-1);
    return undone?.by === by ? [{ undone, before: stack.at(-2) ?? null }] : [];
  });
  tops.sort((a, b) => (order.get(b.undone.id) ?? 0) - (order.get(a.undone.id) ?? 0));
  return tops[0] ?? null;
}
