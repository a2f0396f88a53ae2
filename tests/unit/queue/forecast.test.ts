import { describe, expect, it, vi } from 'vitest';
import {
  compareForecasts,
  forecastBacklog,
  forecastInputSchema,
  learnMonthlyRates,
} from '@/lib/queue/rules/forecast';
import { drawExponential, drawGammaMeanOne, seededRandom } from '@/lib/queue/rules/random';

// Long computations: a busy machine may need a while.
vi.setConfig({ testTimeout: 120_000 });

const season = [2, 2, 6, 9, 9, 3, 2, 3, 9, 9, 4, 2];
const input = forecastInputSchema.parse({
  startOn: '2026-01-05',
  backlog: 120,
  intakePerWeek: season,
  people: Array.from({ length: 12 }, () => 4),
  birdsPerPersonWeek: 1.5,
  weeks: 104,
  runs: 400,
  seed: 7,
});

describe('the forecast', () => {
  it('is the same for the same seed and another for another', () => {
    expect(forecastBacklog(input)).toEqual(forecastBacklog(input));
    expect(forecastBacklog({ ...input, seed: 8 })).not.toEqual(forecastBacklog(input));
  });

  it('gives a band in order, each week with its day', () => {
    const { weeks } = forecastBacklog(input);
    expect(weeks).toHaveLength(104);
    expect(weeks[0]?.on).toBe('2026-01-12');
    for (const { p5, p25, p50, p75, p95, clearedShare } of weeks) {
      expect([p5, p25, p50, p75, p95]).toEqual([p5, p25, p50, p75, p95].sort((a, b) => a - b));
      expect(clearedShare >= 0 && clearedShare <= 1).toBe(true);
    }
  });

  it('follows the season: the backlog grows in the months of migration', () => {
    const { weeks } = forecastBacklog({ ...input, runs: 1000 });
    const at = (week: number) => weeks[week - 1]?.mean ?? Number.NaN;
    expect(at(8)).toBeLessThan(120);
    expect(at(21)).toBeGreaterThan(at(8));
  });

  it('two more people clear the backlog sooner, from the same random numbers', () => {
    const { today, changed } = compareForecasts(input, 2);
    expect(today).toEqual(forecastBacklog(input));
    expect(changed.weeks.at(-1)?.mean).toBeLessThan(today.weeks.at(-1)?.mean ?? 0);
    const sooner = changed.clears.middle;
    expect(sooner !== null && (today.clears.middle === null || sooner < today.clears.middle)).toBe(true);
  });

  it('has a wider band when the rates were learned from little', () => {
    const width = (learnedFrom?: { intake: number; prepared: number }) => {
      const end = forecastBacklog({ ...input, backlog: 500, learnedFrom }).weeks.at(25);
      return (end?.p95 ?? 0) - (end?.p5 ?? 0);
    };
    expect(width({ intake: 10, prepared: 10 })).toBeGreaterThan(1.5 * width());
    expect(Math.abs(width({ intake: 100_000, prepared: 100_000 }) / width() - 1)).toBeLessThan(0.3);
  });

  it('never clears, and says so by null, when more comes than leaves', () => {
    const { clears } = forecastBacklog({ ...input, people: season.map(() => 0) });
    expect(clears).toEqual({ early: null, middle: null, late: null });
  });

  it('starts cleared with an empty queue', () => {
    expect(forecastBacklog({ ...input, backlog: 0 }).clears.early).toBe('2026-01-05');
  });
});

describe('rates learned from days', () => {
  it('gives each month its own rate, drawn to the whole where it was seen briefly', () => {
    const days = Array.from({ length: 62 }, (_, at) => `2024-05-${String((at % 31) + 1).padStart(2, '0')}`);
    const rates = learnMonthlyRates(days, '2024-01-01', '2024-12-31');
    const overall = 62 / (366 / 7);
    // Two a day in May: 14 a week over 31/7 weeks, with four weeks of the overall rate.
    expect(rates[4]).toBeCloseTo((62 + 4 * overall) / (31 / 7 + 4), 10);
    expect(rates[0]).toBeCloseTo((4 * overall) / (31 / 7 + 4), 10);
  });

  it('counts only what lies in the period, and refuses one that runs backwards', () => {
    expect(learnMonthlyRates(['2023-12-31'], '2024-01-01', '2024-12-31').every((rate) => rate === 0)).toBe(
      true,
    );
    expect(() => learnMonthlyRates([], '2024-02-01', '2024-01-01')).toThrow(RangeError);
  });
});

describe('random numbers', () => {
  const moments = (draw: () => number, count = 40_000) => {
    const values = Array.from({ length: count }, draw);
    const mean = values.reduce((sum, value) => sum + value, 0) / count;
    return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count };
  };

  it.each<[string, (random: () => number) => number, number, number]>([
    ['uniform', (random) => random(), 1 / 2, 1 / 12],
    ['exponential of rate 2', (random) => drawExponential(random, 2), 1 / 2, 1 / 4],
    ['gamma of shape 5 and mean 1', (random) => drawGammaMeanOne(random, 5), 1, 1 / 5],
  ])('%s: mean and variance', (_name, draw, mean, variance) => {
    const random = seededRandom(11);
    const found = moments(() => draw(random));
    expect(Math.abs(found.mean - mean)).toBeLessThan(5 * Math.sqrt(variance / 40_000));
    expect(Math.abs(found.variance / variance - 1)).toBeLessThan(0.06);
  });

  it('streams of one seed are not correlated', () => {
    const [a, b] = [seededRandom(1, 0), seededRandom(1, 1)];
    const pairs = Array.from({ length: 20_000 }, () => (a() - 0.5) * (b() - 0.5));
    const correlation = (12 * pairs.reduce((sum, value) => sum + value, 0)) / pairs.length;
    expect(Math.abs(correlation)).toBeLessThan(5 / Math.sqrt(20_000));
  });
});
