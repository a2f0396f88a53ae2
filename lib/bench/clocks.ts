import type { ClockSettings } from '@/lib/bench/clock-schema';
import { say } from '@/lib/platform/words/say';

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

/**
 * The three clocks of the bench at the instant `now`: out of the freezer, thawing, tissue due.
 * @param leadHours how long before the work a bird of this size leaves the freezer; a setting, there is no formula
 */
export function readClocks(
  times: BenchTimes,
  leadHours: number | null,
  now: number,
  settings: ClockSettings,
): BenchClocks {
  const { outOfFreezerAt, workableAt, tissueTakenAt, finishedAt } = times;
  return {
    outOfFreezer: runClock(outOfFreezerAt, finishedAt, settings.timeOutAfterHours * 60, now),
    thaw: runClock(outOfFreezerAt, workableAt ?? finishedAt, leadHours === null ? null : leadHours * 60, now),
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

/** From here on minutes tell nobody anything. */
const DAYS_FROM_HOURS = 72;

/** "2 h 05 min" for whole minutes, "4 days" from three days on, with a minus sign when negative. */
export function sayMinutes(minutes: number): string {
  const whole = Math.abs(Math.trunc(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  const sign = minutes < 0 && whole > 0 ? '−' : '';
  if (hours >= DAYS_FROM_HOURS) return say('{sign}{floor} days', { sign, floor: Math.floor(hours / 24) });
  return hours === 0
    ? say('{sign}{rest} min', { sign, rest })
    : say('{sign}{hours} h {padStart} min', { sign, hours, padStart: String(rest).padStart(2, '0') });
}
