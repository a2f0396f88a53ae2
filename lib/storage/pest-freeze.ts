import { say } from '@/lib/platform/words/say';
import type { FreezerRun } from './schema';

/** What freezing must reach to count against pests; settings. */
export interface PestFreezeRule {
  atMostC: number;
  singleHours: number;
  cycleHours: number;
  cycles: number;
}

/** 6 days at −20 °C in one go, or two cycles of 48 h: NPS Conserve O Gram 3/6, citing Strang 1992 (read). */
export const PEST_FREEZE_RULE: PestFreezeRule = { atMostC: -20, singleHours: 144, cycleHours: 48, cycles: 2 };

export interface PestFreezeVerdict {
  enough: boolean;
  reason: string;
}

const hoursOf = (run: FreezerRun): number =>
  (Date.parse(run.endedAt) - Date.parse(run.startedAt)) / 3_600_000;

/**
 * Whether the freezer runs of one material suffice: a single long one, or enough cycles. Each run counts as one cycle; one
 * whose temperature nobody noted counts for nothing.
 */
export function assessPestFreeze(
  runs: readonly FreezerRun[],
  rule: PestFreezeRule = PEST_FREEZE_RULE,
): PestFreezeVerdict {
  if (runs.length === 0) return { enough: false, reason: say('It was not in the pest freezer: 0 h.') };
  const noted = runs.filter(({ temperatureC }) => temperatureC !== null);
  const cold = noted.filter(({ temperatureC }) => (temperatureC ?? 0) <= rule.atMostC);
  const hours = cold.map(hoursOf);
  const longest = Math.max(0, ...hours);
  if (longest >= rule.singleHours) {
    return {
      enough: true,
      reason: say('{floor} h at {atMostC} °C or colder in one run.', {
        floor: Math.floor(longest),
        atMostC: rule.atMostC,
      }),
    };
  }
  const cycles = hours.filter((one) => one >= rule.cycleHours).length;
  if (cycles >= rule.cycles) {
    return {
      enough: true,
      reason: say('{cycles} runs of {cycleHours} h or more at {atMostC} °C or colder.', {
        cycles,
        cycleHours: rule.cycleHours,
        atMostC: rule.atMostC,
      }),
    };
  }
  const warm = noted.length - cold.length;
  const unknown = runs.length - noted.length;
  const aside = [
    warm > 0
      ? say(' {warm} of the runs were warmer than {atMostC} °C and do not count.', {
          warm,
          atMostC: rule.atMostC,
        })
      : '',
    unknown > 0 ? say(' The temperature of {unknown} of the runs was not noted.', { unknown }) : '',
  ].join('');
  return {
    enough: false,
    reason: say('Longest run {floor} h; needed {singleHours} h, or {cycles} runs of {cycleHours} h.{aside}', {
      floor: Math.floor(longest),
      singleHours: rule.singleHours,
      cycles: rule.cycles,
      cycleHours: rule.cycleHours,
      aside,
    }),
  };
}
