import type { TissueTimes } from './schema';

/** One spell without cold: between death and freezer, out of the freezer, or on the bench. */
export type WarmSpell = {
  name: 'before-freezing' | 'thawing' | 'on-the-bench';
  /** Hours at least and at most; equal where both ends are known. */
  leastHours: number;
  mostHours: number;
};

export type TimeExposed = {
  spells: WarmSpell[];
  leastHours: number;
  mostHours: number;
  /** Spells whose times are not recorded: the sum is then a least figure only. */
  unknown: WarmSpell['name'][];
};

const hour = 3_600_000;

/** Time without cold between death and preservation, summed over its spells, with what is not known of it. */
export function computeTimeExposed(times: TissueTimes): TimeExposed {
  const spells: WarmSpell[] = [];
  const unknown: WarmSpell['name'][] = [];
  const add = (name: WarmSpell['name'], from: [string | null, string | null], until: string | null) => {
    const [early, late] = from;
    if (until === null || early === null) return unknown.push(name);
    // Death cannot have come after the freezer, however late the interval was guessed.
    const least = Math.max(0, Date.parse(until) - Date.parse(late ?? early));
    const most = Math.max(0, Date.parse(until) - Date.parse(early));
    return spells.push({ name, leastHours: least / hour, mostHours: most / hour });
  };
  const wasFrozen = times.frozenAt !== null || times.outOfFreezerAt !== null;
  const firstEnd = wasFrozen ? times.frozenAt : times.sampledAt;
  add('before-freezing', [times.diedFromAt ?? times.diedUntilAt, times.diedUntilAt], firstEnd);
  // With only the end of the death interval known, no upper figure exists.
  if (times.diedFromAt === null && times.diedUntilAt !== null) unknown.push('before-freezing');
  if (wasFrozen) add('thawing', [times.outOfFreezerAt, times.outOfFreezerAt], times.sampledAt);
  add('on-the-bench', [times.sampledAt, times.sampledAt], times.preservedAt);
  return {
    spells,
    leastHours: spells.reduce((sum, spell) => sum + spell.leastHours, 0),
    mostHours: spells.reduce((sum, spell) => sum + spell.mostHours, 0),
    unknown,
  };
}
