import type { CarcassState, ClaimSettings } from '../schema';

const DAY_MS = 86_400_000;

/** The instant at which a claim made (or renewed) at `claimedAt` ends. */
export function claimExpiresAt(claimedAt: Date, settings: ClaimSettings): Date {
  return new Date(claimedAt.getTime() + settings.claimDays * DAY_MS);
}

export type OpenClaim = {
  birdId: string;
  state: CarcassState;
  expiresAt: Date;
  /** When the person was told that this claim is about to end; a renewed claim has none. */
  noticedAt: Date | null;
};

export type ClaimStep = { birdId: string; step: 'tell' | 'run-out'; daysLeft: number };

/**
 * What is due on open claims at this instant. Notice always comes first: a claim whose person has not been told is told
 * of, however late, and runs out only a full notice period after that. Birds that are out of the freezer never run out.
 */
export function dueClaimSteps(claims: readonly OpenClaim[], at: Date, settings: ClaimSettings): ClaimStep[] {
  const noticeMs = settings.noticeDays * DAY_MS;
  return claims.flatMap((claim): ClaimStep[] => {
    if (claim.state !== 'claimed') return [];
    const leftMs = claim.expiresAt.getTime() - at.getTime();
    const daysLeft = Math.max(0, Math.ceil(leftMs / DAY_MS));
    if (claim.noticedAt === null) {
      return leftMs <= noticeMs ? [{ birdId: claim.birdId, step: 'tell', daysLeft }] : [];
    }
    const warnedLongEnough = at.getTime() - claim.noticedAt.getTime() >= noticeMs;
    return leftMs <= 0 && warnedLongEnough ? [{ birdId: claim.birdId, step: 'run-out', daysLeft: 0 }] : [];
  });
}
