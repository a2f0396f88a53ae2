import { phrases, say } from '@/lib/platform/words/say';
import type { CustodyState, MaterialKind, SuffixLetters } from '../schema';

export type SuffixedMaterial = { id: string; kind: MaterialKind; suffix: string | null };

/** Kinds that come in numbers, so that the first bears a figure too. */
const ALWAYS_NUMBERED: readonly MaterialKind[] = ['vial', 'other'];

/**
 * Suffixes of a bird's materials: the letters of the kind, with a figure from the second on (S, S2; vials T1, T2). One
 * that was given is never changed and none is used twice, also when the material that had it is gone.
 * @param materials in the order in which they were made
 * @param usedBefore suffixes of materials that no longer exist
 */
export function assignSuffixes(
  materials: readonly SuffixedMaterial[],
  letters: SuffixLetters,
  usedBefore: readonly string[] = [],
): Map<string, string> {
  const taken = new Set([...usedBefore, ...materials.flatMap((material) => material.suffix ?? [])]);
  const result = new Map<string, string>();
  for (const { id, kind, suffix } of materials) {
    if (suffix !== null) {
      result.set(id, suffix);
      continue;
    }
    const stem = letters[kind];
    let count = 1;
    const name = () => (count === 1 && !ALWAYS_NUMBERED.includes(kind) ? stem : `${stem}${count}`);
    while (taken.has(name())) count += 1;
    taken.add(name());
    result.set(id, name());
  }
  return result;
}

export type CustodyAct =
  | 'lend'
  | 'return'
  | 'lose-track'
  | 'find'
  | 'deaccession'
  | 'use-up'
  | 'sample'
  | 'move';

/** Custody of a material: act → from → to. Sampling and moving need it on the shelf and leave it there. */
export const CUSTODY_TRANSITIONS: Record<CustodyAct, Partial<Record<CustodyState, CustodyState>>> = {
  lend: { 'on-shelf': 'on-loan' },
  return: { 'on-loan': 'on-shelf' },
  'lose-track': { 'on-shelf': 'missing', 'on-loan': 'missing' },
  find: { missing: 'on-shelf' },
  deaccession: { 'on-shelf': 'deaccessioned', missing: 'deaccessioned', 'on-loan': 'deaccessioned' },
  // Consumed here by sampling, or by the borrower of a grant.
  'use-up': { 'on-shelf': 'used-up', 'on-loan': 'used-up' },
  sample: { 'on-shelf': 'on-shelf' },
  move: { 'on-shelf': 'on-shelf' },
};

const CUSTODY_WORDS: Record<CustodyState, string> = phrases({
  'on-shelf': 'on the shelf',
  'on-loan': 'out on loan',
  missing: 'missing',
  'used-up': 'used up',
  deaccessioned: 'deaccessioned',
});

/** Whether a material may be lent, returned, sampled, moved, where it is now. */
export function moveCustody(
  from: CustodyState,
  act: CustodyAct,
): { ok: true; to: CustodyState } | { ok: false; code: string; reason: string } {
  const to = CUSTODY_TRANSITIONS[act][from];
  if (to !== undefined) return { ok: true, to };
  return {
    ok: false,
    code: 'wrong-custody',
    reason: say('This material is {custody_words}.', { custody_words: CUSTODY_WORDS[from] }),
  };
}
