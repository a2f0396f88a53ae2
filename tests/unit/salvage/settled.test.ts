import { expect, it } from 'vitest';
import { isSettled } from '@/lib/salvage/rules/settled';

/** The lab's own decision, common practice, no source. */
it.each([
  ['declined', null, 0, true],
  ['declined', null, 1, false],
  ['accepted', 'prepared', 0, true],
  ['accepted', 'prepared', 1, false],
  ['accepted', 'released', 0, true],
  ['accepted', 'transferred', 0, true],
  ['accepted', 'discarded', 0, true],
  ['accepted', 'in-freezer', 0, false],
  ['accepted', 'on-the-bench', 0, false],
  ['accepted', null, 0, false],
  ['reported', null, 0, false],
  ['in-triage', null, 0, false],
  ['on-hold', 'prepared', 0, false],
] as const)('%s, bird %s, %i holds: %s', (state, birdState, openHolds, settled) =>
  expect(isSettled({ state, birdState, openHolds })).toBe(settled),
);
