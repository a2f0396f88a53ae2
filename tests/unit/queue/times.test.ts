import { describe, expect, it } from 'vitest';
import { addLocalMinutes } from '@/lib/queue/rules/plan-schedule';
import { buildPullList, type PullItem, pullRounds, sizeClassOf } from '@/lib/queue/rules/pull-list';
import { learnTimes, startMinutes, type TimeRecord } from '@/lib/queue/rules/times';
import { sizeSettingsSchema, timeSettingsSchema } from '@/lib/queue/schema';

const timeSettings = timeSettingsSchema.parse({});
const sizes = sizeSettingsSchema.parse({});
const records = (minutes: number[]): TimeRecord[] =>
  minutes.map((value) => ({ style: 'fluid', sizeClass: 'small', minutes: value }));
const fluidSmall = (list: TimeRecord[]) =>
  learnTimes(list, timeSettings).find((one) => one.style === 'fluid' && one.sizeClass === 'small');

describe('preparation times', () => {
  it('takes the median of the records, which a forgotten clock does not move', () => {
    const learned = fluidSmall(records([30, 35, 40, 45, 2000]));
    expect(learned).toMatchObject({ minutes: 40, records: 5, from: 'records' });
    expect(learned?.sentence).toContain('Median 40 minutes of 5 records');
  });

  // Median absolute deviation of 1..9: 2 raw, 2.9652 scaled (R stats::mad, computed).
  it('gives the spread by quartiles and scaled median absolute deviation', () => {
    expect(fluidSmall(records([1, 2, 3, 4, 5, 6, 7, 8, 9]))?.spread?.mad).toBeCloseTo(2.9652, 10);
    expect(fluidSmall(records([1, 2, 3, 4, 5, 6, 7, 8, 9]))?.spread).toMatchObject({ lower: 3, upper: 7 });
  });

  it('keeps the start value with too few records, and says so', () => {
    const learned = fluidSmall(records([30, 35, 40, 45]));
    expect(learned).toMatchObject({
      minutes: startMinutes('fluid', 'small', timeSettings),
      from: 'start-value',
      records: 4,
    });
    expect(learned?.sentence).toContain('4 of 5 records needed');
  });

  it('takes a start value from the settings and leaves impossible records out', () => {
    const own = timeSettingsSchema.parse({ startMinutes: { fluid: { small: 77 } } });
    expect(startMinutes('fluid', 'small', own)).toBe(77);
    expect(fluidSmall(records([0, -5, Number.NaN]))).toMatchObject({ records: 0, spread: null });
  });

  it('answers for every style and size', () => {
    expect(learnTimes([], timeSettings)).toHaveLength(35);
  });
});

describe('the pull list', () => {
  it.each([
    [5, 'tiny'],
    [20, 'tiny'],
    [20.1, 'small'],
    [500, 'medium'],
    [2000, 'large'],
    [2000.5, 'very-large'],
  ])('a bird of %d g is %s', (massG, size) => {
    expect(sizeClassOf(massG, sizes)).toBe(size);
  });

  const item = (birdId: string, path: string[], change: Partial<PullItem> = {}): PullItem => ({
    birdId,
    label: birdId,
    sizeClass: 'tiny',
    path,
    isThawed: false,
    startAt: '2026-03-05T09:00',
    personName: 'Ines Brandt',
    ...change,
  });

  it('walks freezer by freezer in the natural order of names, unknown places last', () => {
    const lines = buildPullList(
      [
        item('e', []),
        item('c', ['Freezer 2', 'Box 1']),
        item('b', ['Freezer 1', 'Box 10']),
        item('a', ['Freezer 1', 'Box 2']),
        item('d', ['Freezer 10', 'Box 1']),
      ],
      sizes,
    );
    expect(lines.map((line) => line.birdId)).toEqual(['a', 'b', 'c', 'd', 'e']);
  });

  it('takes each bird out by the lead of its size, over midnight too, and a thawed one at its start', () => {
    const lines = buildPullList(
      [
        item('tiny', ['F1']),
        item('large', ['F2'], { sizeClass: 'large' }),
        item('out', ['F3'], { sizeClass: 'very-large', isThawed: true }),
      ],
      sizes,
    );
    expect(lines.map((line) => line.takeOutAt)).toEqual([
      '2026-03-05T08:00',
      '2026-03-04T09:00',
      '2026-03-05T09:00',
    ]);
  });

  it('makes one walk of birds that are due close together', () => {
    const lines = buildPullList(
      [
        item('late', ['F1'], { startAt: '2026-03-05T10:00' }),
        item('b', ['F9'], { startAt: '2026-03-05T09:00' }),
        item('a', ['F2'], { startAt: '2026-03-05T09:20' }),
      ],
      sizes,
    );
    const rounds = pullRounds(lines, 30);
    expect(rounds.map((round) => [round.takeOutBy, round.lines.map((line) => line.birdId)])).toEqual([
      ['2026-03-05T08:00', ['a', 'b']],
      ['2026-03-05T09:00', ['late']],
    ]);
  });

  it('counts local minutes over months and refuses what is not a time', () => {
    expect(addLocalMinutes('2026-03-01T00:30', -60)).toBe('2026-02-28T23:30');
    expect(() => addLocalMinutes('tomorrow', 1)).toThrow(RangeError);
  });
});
