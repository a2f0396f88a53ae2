/** Two people changed one record: what differs, what settles itself, what a person has to choose. */

export type MergeSide = 'mine' | 'theirs';
export type Difference<T> = {
  field: keyof T & string;
  mine: unknown;
  theirs: unknown;
  base: unknown;
  /** Only one side changed it, so that side stands; null when both did (or the common start is not known). */
  settled: MergeSide | null;
};

/** Equal as stored: the order of keys does not matter, null and undefined are both "nothing". */
export function isSame(one: unknown, other: unknown): boolean {
  if (one === other || (one ?? null) === (other ?? null)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (Array.isArray(one) || Array.isArray(other)) {
    return (
      Array.isArray(one) &&
      Array.isArray(other) &&
      one.length === other.length &&
      one.every((item, index) => isSame(item, other[index]))
    );
  }
  const [a, b] = [one as Record<string, unknown>, other as Record<string, unknown>];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every((key) => isSame(a[key], b[key]));
}

/** The fields in which mine and theirs differ, in the order given. `base` is what both began from, when known. */
export function findDifferences<T extends object>(
  fields: readonly (keyof T & string)[],
  mine: T,
  theirs: T,
  base?: T,
): Difference<T>[] {
  return fields
    .filter((field) => !isSame(mine[field], theirs[field]))
    .map((field) => {
      const start = base?.[field];
      let settled: MergeSide | null = null;
      if (base !== undefined && isSame(theirs[field], start)) settled = 'mine';
      else if (base !== undefined && isSame(mine[field], start)) settled = 'theirs';
      return { field, mine: mine[field], theirs: theirs[field], base: start, settled };
    });
}

/** Their version with the chosen fields of mine: what was not chosen stays as they saved it. */
export function mergeChoices<T extends object>(
  mine: T,
  theirs: T,
  choices: Partial<Record<keyof T & string, MergeSide>>,
): T {
  const merged = { ...theirs };
  for (const [field, side] of Object.entries(choices)) {
    if (side === 'mine') merged[field as keyof T] = mine[field as keyof T];
  }
  return merged;
}
