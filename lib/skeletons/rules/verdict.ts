import type { BoneEntry } from '../schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '../taxa';
import { measureCompleteness, type Share } from './completeness';
import { type BoneFinding, checkConservation, isAccountedFor } from './conservation';

export interface BookVerdict {
  balanced: boolean;
  /** It balances, or somebody said why not. */
  accountedFor: boolean;
  findings: BoneFinding[];
  /** How much of the bird lies in the skeleton. */
  skeleton: Share;
}

/** Everything that the rules say of one book. */
export function judgeBook(
  entries: readonly BoneEntry[],
  explanation: string | null,
  profile: SkeletonProfile = GENERAL_PROFILE,
): BookVerdict {
  const conservation = checkConservation(entries, profile);
  return {
    ...conservation,
    accountedFor: isAccountedFor(conservation, explanation),
    skeleton: measureCompleteness(entries, ['skeleton'], profile).total,
  };
}

/** The findings that no explanation excuses: one element in the book twice. */
export const doublesIn = (findings: readonly BoneFinding[]): BoneFinding[] =>
  findings.filter(({ code }) => code === 'overlap' || code === 'written-twice' || code === 'two-places');
