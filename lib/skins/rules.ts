import type { ExpectedDays } from '@/lib/platform/days';
import { SKIN_STATES, type SkinDurations, type SkinState } from './schema';

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

/** The days a skin should be in a state; null on the shelf, where nothing is due. */
export const expectedDaysIn = (
  state: SkinState,
  durations: SkinDurations = STARTING_SKIN_DURATIONS,
): ExpectedDays | null => (state === 'shelved' ? null : durations[state]);

/** The state that usually follows; null on the shelf. */
export const usualNext = (state: SkinState): SkinState | null =>
  SKIN_STATES[SKIN_STATES.indexOf(state) + 1] ?? null;
