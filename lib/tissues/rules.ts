import { say } from '@/lib/platform/words/say';
import type { Verdict } from '@/lib/storage/schema';
import type { Amount, AmountUnit, Vial, VialState } from './schema';

/** What a vial may become. Taking from it and finding it again are computed, see below. */
export const vialTransitions: Record<VialState, readonly VialState[]> = {
  filled: ['stored', 'lost'],
  stored: ['partly-used', 'used-up', 'lost'],
  'partly-used': ['partly-used', 'used-up', 'lost'],
  'used-up': [],
  lost: ['stored', 'partly-used'],
};

export function canBecome(from: VialState, to: VialState): boolean {
  return vialTransitions[from].includes(to);
}

type Dimension = 'mass' | 'volume' | 'count';

/** Each unit in whole steps (µg, nl, pieces), so that many small takings do not drift. */
const steps: Record<AmountUnit, { dimension: Dimension; perUnit: number }> = {
  mg: { dimension: 'mass', perUnit: 1_000 },
  g: { dimension: 'mass', perUnit: 1_000_000 },
  ul: { dimension: 'volume', perUnit: 1_000 },
  ml: { dimension: 'volume', perUnit: 1_000_000 },
  pieces: { dimension: 'count', perUnit: 1 },
};

const toSteps = (amount: Amount) => Math.round(amount.value * steps[amount.unit].perUnit);
const fromSteps = (count: number, unit: AmountUnit): Amount => ({ value: count / steps[unit].perUnit, unit });

export type TakeProblem =
  | 'not-measured'
  | 'other-dimension'
  | 'nothing-taken'
  | 'more-than-there-is'
  | 'not-available';

const unitNames: Record<AmountUnit, string> = { mg: 'mg', g: 'g', ul: 'µl', ml: 'ml', pieces: 'pieces' };

/** "12.5 mg", "3 pieces" */
export function formatAmount(amount: Amount): string {
  return `${amount.value} ${amount.unit === 'pieces' && amount.value === 1 ? 'piece' : unitNames[amount.unit]}`;
}

/** What is left when an amount is taken; in the unit of `from`. Never below zero. */
export function subtractAmount(from: Amount | null, taken: Amount): Verdict<Amount, TakeProblem> {
  const refuse = (reason: TakeProblem, message: string) => ({ ok: false as const, reason, message });
  if (from === null) return refuse('not-measured', say('Its amount was never measured: measure it first.'));
  if (steps[from.unit].dimension !== steps[taken.unit].dimension) {
    return refuse(
      'other-dimension',
      say('It is measured in {unitnames}; {unitnames2} cannot be taken from that.', {
        unitnames: unitNames[from.unit],
        unitnames2: unitNames[taken.unit],
      }),
    );
  }
  const takenSteps = toSteps(taken);
  if (takenSteps <= 0) return refuse('nothing-taken', say('Say how much is taken.'));
  const left = toSteps(from) - takenSteps;
  if (left < 0) {
    return refuse(
      'more-than-there-is',
      say('{amount} is more than there is: {amount2}. Nothing was taken.', {
        amount: formatAmount(taken),
        amount2: formatAmount(from),
      }),
    );
  }
  return { ok: true, value: fromSteps(left, from.unit) };
}

export type VialStock = Pick<Vial, 'suffix' | 'amount' | 'state' | 'thawCount'>;

/**
 * Takes an amount out of a vial for good (destructive sampling, a grant, a test).
 * @returns amount and state afterwards; the vial passed in is not changed
 */
export function consumeFromVial(
  vial: VialStock,
  taken: Amount,
): Verdict<{ amount: Amount; state: 'partly-used' | 'used-up' }, TakeProblem> {
  if (vial.state !== 'stored' && vial.state !== 'partly-used') {
    const why: Record<Exclude<VialState, 'stored' | 'partly-used'>, string> = {
      filled: say('it has no place in storage yet'),
      'used-up': say('it is used up'),
      lost: say('it is recorded as lost'),
    };
    return {
      ok: false,
      reason: 'not-available',
      message: say('Nothing can be taken: {why}.', { why: why[vial.state] }),
    };
  }
  const left = subtractAmount(vial.amount, taken);
  if (!left.ok) return left;
  const state = left.value.value === 0 ? 'used-up' : 'partly-used';
  return { ok: true, value: { amount: left.value, state } };
}

/** The next suffix under a vial: T1 → T1.1, T1.2… One that was ever used is not used again. */
export function nextDerivedSuffix(parentSuffix: string, everUsed: Iterable<string>): string {
  let highest = 0;
  for (const suffix of everUsed) {
    if (!suffix.startsWith(`${parentSuffix}.`)) continue;
    const number = Number(suffix.slice(parentSuffix.length + 1).split('.')[0]);
    if (Number.isInteger(number)) highest = Math.max(highest, number);
  }
  return `${parentSuffix}.${highest + 1}`;
}

export type DerivedVial = {
  suffix: string;
  amount: Amount;
  state: 'filled';
  thawCount: number;
};

/**
 * Divides a vial: what is taken becomes a material of its own, with its own suffix, derived from the first.
 * Parent and sub-sample together hold what the parent held.
 * @param everUsed all suffixes ever given under this bird
 * @param wasThawed the vial thawed for it, which counts for both
 */
export function takeSubSample(
  vial: VialStock,
  taken: Amount,
  everUsed: Iterable<string>,
  wasThawed: boolean,
): Verdict<
  {
    parent: { amount: Amount; state: 'partly-used' | 'used-up'; thawCount: number };
    derived: DerivedVial;
  },
  TakeProblem
> {
  const left = consumeFromVial(vial, taken);
  if (!left.ok) return left;
  const thawCount = vial.thawCount + (wasThawed ? 1 : 0);
  const suffix = nextDerivedSuffix(vial.suffix, everUsed);
  return {
    ok: true,
    value: {
      parent: { ...left.value, thawCount },
      derived: { suffix, amount: taken, state: 'filled', thawCount },
    },
  };
}

/**
 * Whether duplicates of one bird lie apart.
 * @param freezerIds freezer of each vial; null: not in storage yet
 */
export function checkDuplicatesApart(freezerIds: readonly (string | null)[]): {
  isApart: boolean;
  message: string;
} {
  const placed = freezerIds.filter((id) => id !== null);
  if (placed.length < 2) return { isApart: false, message: say('Only one vial of this bird is in storage.') };
  const freezers = new Set(placed).size;
  return freezers > 1
    ? { isApart: true, message: say('Its vials lie in {freezers} freezers.', { freezers }) }
    : { isApart: false, message: say('All its vials lie in one freezer: store a duplicate in another.') };
}

/** Why no vial may be filled from a bird in this state, to follow its number; null when one may. */
export function fillObstacle(birdState: string): string | null {
  if (birdState === 'discarded') return say('was discarded: there is nothing left to sample.');
  if (birdState === 'transferred') return say('was transferred to somebody else.');
  if (birdState === 'released') return say('was released to the authority.');
  return null;
}

/** The instant at which a calendar day ends in a time zone (IANA name). */
export function endOfDay(day: string, timeZone: string): Date {
  const utc = new Date(`${day}T23:59:59.999Z`);
  const parts = new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' }).formatToParts(utc);
  const name = parts.find((part) => part.type === 'timeZoneName')?.value ?? '';
  const [, sign, hours = '0', minutes = '0'] = /GMT([+-])(\d{2}):?(\d{2})?/.exec(name) ?? [];
  const offset = (Number(hours) * 60 + Number(minutes)) * (sign === '-' ? -1 : 1);
  return new Date(utc.getTime() - offset * 60_000);
}
