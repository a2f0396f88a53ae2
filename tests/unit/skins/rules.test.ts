import { describe, expect, it } from 'vitest';
import {
  canMoveSkin,
  expectedDaysIn,
  SKIN_TRANSITIONS,
  STARTING_SKIN_DURATIONS,
  usualNext,
} from '@/lib/skins/rules';
import { SKIN_STATES, skinDurationsSchema } from '@/lib/skins/schema';

describe('the states of a skin', () => {
  it('lead on to the shelf in order and never past the pest freezer', () => {
    for (const [index, state] of SKIN_STATES.entries()) {
      const next = SKIN_STATES[index + 1];
      if (next) expect(canMoveSkin(state, next)).toBe(true);
      expect(usualNext(state)).toBe(next ?? null);
    }
    const toShelf = SKIN_STATES.filter((state) => SKIN_TRANSITIONS[state].includes('shelved'));
    expect(toShelf).toEqual(['pest-freeze']);
  });

  it.each([
    ['pinned', 'dry'],
    ['drying', 'shelved'],
    ['dry', 'shelved'],
    ['shelved', 'drying'],
  ] as const)('never %s to %s', (from, to) => {
    expect(canMoveSkin(from, to)).toBe(false);
  });
});

describe('days in a state', () => {
  it('follow the lab’s settings; on the shelf nothing is due', () => {
    const slow = { ...STARTING_SKIN_DURATIONS, drying: { min: 30, max: 60 } };
    expect(expectedDaysIn('drying')).toEqual({ min: 7, max: 21 });
    expect(expectedDaysIn('drying', slow)).toEqual({ min: 30, max: 60 });
    expect(expectedDaysIn('shelved', slow)).toBeNull();
    expect(skinDurationsSchema.safeParse({ ...slow, dry: { min: 3, max: 1 } }).success).toBe(false);
  });
});
