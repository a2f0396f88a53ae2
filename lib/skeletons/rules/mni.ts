/** The numbers of left and right specimens of one element in a lot, and how many pair up as one individual. */
export interface PairedCounts {
  left: number;
  right: number;
  pairs: number;
}

function assertCounts({ left, right, pairs }: PairedCounts): void {
  for (const count of [left, right, pairs]) {
    if (!Number.isInteger(count) || count < 0) throw new RangeError('Counts are whole numbers from 0 on.');
  }
  if (pairs > Math.min(left, right)) throw new RangeError('There are more pairs than bones to pair.');
}

/** Fewest individuals that could have left the bones of one element: the commoner side (White 1953). */
export function countIndividualsBySide(left: number, right: number): number {
  assertCounts({ left, right, pairs: 0 });
  return Math.max(left, right);
}

/** Fewest individuals once pairs are matched: L + R − P. */
export function countIndividualsByPairs(counts: PairedCounts): number {
  assertCounts(counts);
  return counts.left + counts.right - counts.pairs;
}

/** The share of bones that came with their fellow: 2P / (L + R); null for an empty lot. */
export function estimateRecovery(counts: PairedCounts): number | null {
  assertCounts(counts);
  const bones = counts.left + counts.right;
  return bones === 0 ? null : (2 * counts.pairs) / bones;
}

/** The lot's minimum over its elements (White 1953), with the element that sets it. */
export function countIndividualsInLot(lot: readonly { element: string; left: number; right: number }[]): {
  individuals: number;
  element: string | null;
} {
  return lot.reduce<{ individuals: number; element: string | null }>(
    (best, { element, left, right }) => {
      const individuals = countIndividualsBySide(left, right);
      return individuals > best.individuals ? { individuals, element } : best;
    },
    { individuals: 0, element: null },
  );
}
