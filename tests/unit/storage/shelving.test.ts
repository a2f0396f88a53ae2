import { describe, expect, it } from 'vitest';
import { assessPestFreeze } from '@/lib/storage/pest-freeze';
import { shelvingProblem } from '@/lib/storage/shelving';

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
    const unnoted = assessPestFreeze([{ ...run(1, 200), temperatureC: null }]);
    expect(unnoted.enough).toBe(false);
    expect(unnoted.reason).toContain('temperature of 1 of the runs was not noted');
  });
});

describe('putting on the shelf', () => {
  const frozen = { enough: true, reason: '150 h' };
  const thin = { enough: false, reason: 'Longest run 20 h.' };
  const facts = { label: 'B-1-S', hasPlace: true, pestFreeze: frozen, remarks: [], note: null };

  it('needs a place, whatever the note says', () => {
    expect(shelvingProblem(facts)).toBeNull();
    expect(shelvingProblem({ ...facts, hasPlace: false, note: 'later' })).toMatchObject({
      path: 'place',
      message: expect.stringContaining('where it is put'),
    });
  });

  it('asks for a word of explanation where something is wanting, and then lets it pass', () => {
    expect(shelvingProblem({ ...facts, pestFreeze: thin })).toMatchObject({
      path: 'note',
      message: expect.stringContaining('Longest run 20 h.'),
    });
    expect(shelvingProblem({ ...facts, remarks: ['No count.'] })?.message).toContain('No count.');
    expect(shelvingProblem({ ...facts, pestFreeze: thin, note: '  ' })).not.toBeNull();
    expect(shelvingProblem({ ...facts, pestFreeze: thin, note: 'Treated with anoxia.' })).toBeNull();
  });
});
