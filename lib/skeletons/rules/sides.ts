import { say, sayCode } from '@/lib/platform/words/say';
import { elementName, elementOf } from '../elements';
import type { ChosenSides, LimbSide, RecordedDamage } from './split';

export interface SideProposal {
  side: LimbSide;
  /** Why, for the person who decides. */
  reason: string;
  /** False where the better side is damaged too. */
  intact: boolean;
}

/** A missing bone weighs more than a broken one: a fracture can still be measured in part. */
const WEIGHT = { broken: 1, missing: 2 } as const;

function damageOf(limb: 'wing' | 'leg', side: LimbSide, damage: readonly RecordedDamage[]) {
  const own = damage.filter((one) => one.side === side && elementOf(one.element).region === limb);
  return { own, score: own.reduce((sum, one) => sum + WEIGHT[one.state], 0) };
}

const listDamage = (damage: readonly RecordedDamage[]): string =>
  damage.map((one) => `${elementName(one.element, one.side)} ${sayCode(one.state)}`).join(', ');

function proposeLimb(
  limb: 'wing' | 'leg',
  damage: readonly RecordedDamage[],
  preferred: LimbSide,
): SideProposal {
  const opposite = preferred === 'left' ? 'right' : 'left';
  const first = damageOf(limb, preferred, damage);
  const second = damageOf(limb, opposite, damage);
  const side = second.score < first.score ? opposite : preferred;
  const [better, worse] = side === preferred ? [first, second] : [second, first];
  if (better.score === 0 && worse.score === 0) {
    return {
      side,
      intact: true,
      reason: say('No break is recorded in either {limb}; the {side} is the usual side.', {
        limb: sayCode(limb),
        side: sayCode(side),
      }),
    };
  }
  if (better.score === 0) {
    return {
      side,
      intact: true,
      reason: say('The {side} {limb} is intact ({listDamage}).', {
        side: sayCode(side),
        limb: sayCode(limb),
        listDamage: listDamage(worse.own),
      }),
    };
  }
  const comparison = better.score === worse.score ? say('as damaged as the other') : say('the less damaged');
  return {
    side,
    intact: false,
    reason: say('Neither {limb} is intact; the {side} is {comparison} ({listDamage}).', {
      limb: sayCode(limb),
      side: sayCode(side),
      comparison,
      listDamage: listDamage([...better.own, ...worse.own]),
    }),
  };
}

/**
 * Which wing and which leg go to the skeleton: an intact one is chosen (common practice, no source). With nothing to
 * choose between, the lab's usual side (a setting).
 */
export function proposeSides(
  damage: readonly RecordedDamage[],
  preferred: LimbSide = 'right',
): { wing: SideProposal; leg: SideProposal } {
  return { wing: proposeLimb('wing', damage, preferred), leg: proposeLimb('leg', damage, preferred) };
}

/** The sides of a proposal, as the split wants them. */
export const chosenSides = (proposal: ReturnType<typeof proposeSides>): ChosenSides => ({
  wing: proposal.wing.side,
  leg: proposal.leg.side,
});
