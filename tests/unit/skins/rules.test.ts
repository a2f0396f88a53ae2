import { describe, expect, it } from 'vitest';
import {
  assessPestFreeze,
  assessSkin,
  canMoveSkin,
  SKIN_TRANSITIONS,
  STARTING_SKIN_DURATIONS,
} from '@/lib/skins/rules';
import { SKIN_STATES, skinDurationsSchema } from '@/lib/skins/schema';

describe('the states of a skin', () => {
  it('lead on to the shelf in order and never past the pest freezer', () => {
    for (const [index, state] of SKIN_STATES.entries()) {
      const next = SKIN_STATES[index + 1];
      if (next) expect(canMoveSkin(state, next)).toBe(true);
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
  it.each([
    ['drying', '2026-04-01', '2026-04-05', 'too-early', 0, '2026-04-22'],
    ['drying', '2026-04-01', '2026-04-08', 'on-time', 0, '2026-04-22'],
    ['drying', '2026-04-01', '2026-04-25', 'overdue', 3, '2026-04-22'],
    ['pest-freeze', '2026-02-25', '2026-03-08', 'overdue', 1, '2026-03-07'],
    ['shelved', '2001-01-01', '2026-04-25', 'on-time', 0, null],
  ] as const)('%s since %s, seen %s: %s', (state, entered, today, status, overdueDays, dueOn) => {
    expect(assessSkin(state, entered, today)).toMatchObject({ status, overdueDays, dueOn });
  });

  it('follow the lab’s settings', () => {
    const slow = { ...STARTING_SKIN_DURATIONS, drying: { min: 30, max: 60 } };
    expect(assessSkin('drying', '2026-04-01', '2026-04-25', slow).status).toBe('too-early');
    expect(skinDurationsSchema.safeParse({ ...slow, dry: { min: 3, max: 1 } }).success).toBe(false);
    expect(() => assessSkin('dry', '2026-04-01', 'today')).toThrow(RangeError);
  });
});

describe('freezing against pests', () => {
  const run = (fromDay: number, hours: number, temperatureC = -20) => ({
    startedAt: new Date(Date.UTC(2026, 0, fromDay)).toISOString(),
    endedAt: new Date(Date.UTC(2026, 0, fromDay, hours)).toISOString(),
    temperatureC,
  });

  // NPS Conserve O Gram 3/6, citing Strang 1992 (read): 6–10 days at −20 °C, or two cycles of 48 h.
  it.each([
    ['six days', [run(1, 144)], true],
    ['an hour less', [run(1, 143)], false],
    ['two cycles of 48 h', [run(1, 48), run(5, 48)], true],
    ['one cycle of 48 h', [run(1, 48)], false],
    ['a cycle cut short', [run(1, 48), run(5, 47)], false],
    ['six days, too warm', [run(1, 144, -15)], false],
    ['two cycles, one too warm', [run(1, 48), run(5, 48, -18)], false],
    ['colder', [run(1, 144, -30)], true],
    ['nothing', [], false],
  ])('%s', (_, runs, enough) => {
    const verdict = assessPestFreeze(runs);
    expect(verdict.enough).toBe(enough);
    expect(verdict.reason).toMatch(/\d/);
  });

  it('says which runs do not count', () => {
    expect(assessPestFreeze([run(1, 200, -5)]).reason).toContain('1 of the runs were warmer than -20 °C');
  });
});
