import { describe, expect, it } from 'vitest';
import { learnPeople } from '@/lib/queue/rules/people-at-work';

describe('who was at work', () => {
  it('counts a person once a week, from Monday on', () => {
    const finished = [
      { day: '2026-03-02', personId: 'ines' }, // Monday
      { day: '2026-03-08', personId: 'ines' }, // Sunday of the same week
      { day: '2026-03-09', personId: 'ines' }, // the next Monday
      { day: '2026-03-04', personId: 'tomas' },
    ];
    const { personWeeks, birdsPerPersonWeek } = learnPeople(finished);
    expect([...personWeeks].sort()).toEqual(['2026-03-02', '2026-03-04', '2026-03-09']);
    expect(birdsPerPersonWeek).toBeCloseTo(4 / 3, 12);
  });

  it('nothing finished: no pace', () => {
    expect(learnPeople([])).toEqual({ personWeeks: [], birdsPerPersonWeek: null });
  });
});
