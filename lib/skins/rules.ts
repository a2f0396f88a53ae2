import type { FreezerRun, SkinDurations, SkinState } from './schema';

/** Where a skin may go from each state; back to drying while it is damp, back to the freezer when something lives in it. */
export const SKIN_TRANSITIONS: Readonly<Record<SkinState, readonly SkinState[]>> = {
  pinned: ['drying'],
  drying: ['dry', 'pinned'],
  dry: ['pest-freeze', 'drying'],
  'pest-freeze': ['shelved', 'dry'],
  shelved: ['pest-freeze'],
};

export const canMoveSkin = (from: SkinState, to: SkinState): boolean => SKIN_TRANSITIONS[from].includes(to);

/**
 * Days a lab starts with, all of them settings. Drying 1–3 weeks at 40–55 % humidity: common practice, no source. Pest
 * freezing 6–10 days at −20 °C: read in NPS Conserve O Gram 3/6. Pinned and waiting dry: our own start values.
 */
export const STARTING_SKIN_DURATIONS: SkinDurations = {
  pinned: { min: 0, max: 2 },
  drying: { min: 7, max: 21 },
  dry: { min: 0, max: 14 },
  'pest-freeze': { min: 6, max: 10 },
};

/** How a skin stands in its state. Dates are calendar days 'YYYY-MM-DD'. */
export interface SkinProgress {
  daysIn: number;
  /** Null on the shelf, where nothing is due. */
  dueOn: string | null;
  status: 'too-early' | 'on-time' | 'overdue';
  overdueDays: number;
}

const DAY_MS = 86_400_000;
const dayNumber = (day: string): number => {
  const at = Date.parse(`${day}T00:00:00Z`);
  if (Number.isNaN(at)) throw new RangeError(`Not a calendar day: ${day}`);
  return at / DAY_MS;
};

/** Days in the state, when the longest expected time is up and by how much it is late. */
export function assessSkin(
  state: SkinState,
  enteredOn: string,
  today: string,
  durations: SkinDurations = STARTING_SKIN_DURATIONS,
): SkinProgress {
  const entered = dayNumber(enteredOn);
  const daysIn = Math.max(0, dayNumber(today) - entered);
  if (state === 'shelved') return { daysIn, dueOn: null, status: 'on-time', overdueDays: 0 };
  const { min, max } = durations[state];
  const overdueDays = Math.max(0, daysIn - Math.ceil(max));
  const dueOn = new Date((entered + Math.ceil(max)) * DAY_MS).toISOString().slice(0, 10);
  if (overdueDays > 0) return { daysIn, dueOn, status: 'overdue', overdueDays };
  return { daysIn, dueOn, status: daysIn < min ? 'too-early' : 'on-time', overdueDays };
}

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

/** Whether the freezer runs of one material suffice: a single long one, or enough cycles. Each run counts as one cycle. */
export function assessPestFreeze(
  runs: readonly FreezerRun[],
  rule: PestFreezeRule = PEST_FREEZE_RULE,
): PestFreezeVerdict {
  const cold = runs.filter(({ temperatureC }) => temperatureC <= rule.atMostC);
  const hours = cold.map((run) => (Date.parse(run.endedAt) - Date.parse(run.startedAt)) / 3_600_000);
  const longest = Math.max(0, ...hours);
  if (longest >= rule.singleHours) {
    return { enough: true, reason: `${Math.floor(longest)} h at ${rule.atMostC} °C or colder in one run.` };
  }
  const cycles = hours.filter((one) => one >= rule.cycleHours).length;
  if (cycles >= rule.cycles) {
    return {
      enough: true,
      reason: `${cycles} runs of ${rule.cycleHours} h or more at ${rule.atMostC} °C or colder.`,
    };
  }
  const warm = runs.length - cold.length;
  const aside = warm > 0 ? ` ${warm} of the runs were warmer than ${rule.atMostC} °C and do not count.` : '';
  return {
    enough: false,
    reason: `Longest run ${Math.floor(longest)} h; needed ${rule.singleHours} h, or ${rule.cycles} runs of ${rule.cycleHours} h.${aside}`,
  };
}
