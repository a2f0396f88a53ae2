/** How long before the bench a carcass leaves the freezer, and how long work may take. All are settings. */
export interface ClockSettings {
  /** Lead times by mass, ascending; the first whose `upToG` is not exceeded holds. */
  thawLeads: readonly { upToG: number; hours: number }[];
  /** Tissue is due within this time after the bird is workable. */
  tissueWithinMinutes: number;
  /** After this long out of the freezer the clock asks to finish or to freeze again. */
  timeOutAfterHours: number;
}

/** Starting values: common practice, no source. Thawing has no simple law, so there is no formula here. */
export const DEFAULT_CLOCKS: ClockSettings = {
  thawLeads: [
    { upToG: 20, hours: 1 },
    { upToG: 100, hours: 3 },
    { upToG: 400, hours: 8 },
    { upToG: 1500, hours: 16 },
    { upToG: 5000, hours: 30 },
    { upToG: Number.POSITIVE_INFINITY, hours: 48 },
  ],
  tissueWithinMinutes: 60,
  timeOutAfterHours: 24,
};

/** Hours to take a bird of this mass (g) out of the freezer before the work; null when the mass is unknown. */
export function thawLeadHours(massG: number | null, settings: ClockSettings = DEFAULT_CLOCKS): number | null {
  if (massG === null || !(massG > 0)) return null;
  return settings.thawLeads.find(({ upToG }) => massG <= upToG)?.hours ?? null;
}

/** Instants in ms since 1970, null while they have not happened. */
export interface BenchTimes {
  outOfFreezerAt: number | null;
  /** Marked by the preparator when the bird can be worked. */
  workableAt: number | null;
  tissueTakenAt: number | null;
  /** Prepared, or back in the freezer. */
  finishedAt: number | null;
}

export type ClockState = 'waiting' | 'running' | 'due' | 'done';

export interface Clock {
  state: ClockState;
  /** Whole minutes since it began; null before. */
  sinceMinutes: number | null;
  /** Whole minutes to its end; negative when it has passed. */
  leftMinutes: number | null;
}

export interface BenchClocks {
  outOfFreezer: Clock;
  thaw: Clock;
  tissue: Clock;
}

const MINUTE = 60_000;

/** The three clocks of the bench at the instant `now`: out of the freezer, thawing, tissue due. */
export function readClocks(
  times: BenchTimes,
  massG: number | null,
  now: number,
  settings: ClockSettings = DEFAULT_CLOCKS,
): BenchClocks {
  const lead = thawLeadHours(massG, settings);
  const { outOfFreezerAt, workableAt, tissueTakenAt, finishedAt } = times;
  return {
    outOfFreezer: runClock(outOfFreezerAt, finishedAt, settings.timeOutAfterHours * 60, now),
    thaw: runClock(outOfFreezerAt, workableAt ?? finishedAt, lead === null ? null : lead * 60, now),
    tissue: runClock(workableAt, tissueTakenAt ?? finishedAt, settings.tissueWithinMinutes, now),
  };
}

function runClock(from: number | null, to: number | null, lengthMinutes: number | null, now: number): Clock {
  if (from === null || now < from) return { state: 'waiting', sinceMinutes: null, leftMinutes: null };
  const done = to !== null && to <= now;
  const sinceMinutes = Math.floor(((done ? to : now) - from) / MINUTE);
  const leftMinutes = lengthMinutes === null ? null : lengthMinutes - sinceMinutes;
  if (done) return { state: 'done', sinceMinutes, leftMinutes };
  return { state: leftMinutes !== null && leftMinutes <= 0 ? 'due' : 'running', sinceMinutes, leftMinutes };
}

/** "2 h 05 min" for whole minutes, with a minus sign when negative. */
export function sayMinutes(minutes: number): string {
  const whole = Math.abs(Math.trunc(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  const sign = minutes < 0 && whole > 0 ? '−' : '';
  return hours === 0 ? `${sign}${rest} min` : `${sign}${hours} h ${String(rest).padStart(2, '0')} min`;
}
