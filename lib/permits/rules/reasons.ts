import type { CoverageReason, Verdict } from '../schema';

const outcomeOrder = ['pass', 'note', 'attention', 'fail'] as const;

export type ReasonInput = Pick<CoverageReason, 'outcome' | 'code' | 'message'> & Partial<CoverageReason>;

/** A reason with every unnamed part empty. */
export function makeReason(input: ReasonInput): CoverageReason {
  return {
    authorityId: null,
    clauseId: null,
    ruleId: null,
    cite: null,
    mark: null,
    unverified: false,
    whoMustBeTold: null,
    hold: null,
    ...input,
  };
}

/** How grave the gravest reason is: 0 pass, 1 note, 2 attention, 3 fail. */
export function gravity(reasons: CoverageReason[]): number {
  return reasons.reduce((worst, reason) => Math.max(worst, outcomeOrder.indexOf(reason.outcome)), 0);
}

/** Passes and notes are covered; one failure is enough for not covered. */
export function verdictOf(reasons: CoverageReason[]): Verdict {
  const worst = gravity(reasons);
  if (worst === 3) return 'not-covered';
  return worst === 2 ? 'needs-attention' : 'covered';
}
