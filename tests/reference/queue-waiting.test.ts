import { describe, expect, it, vi } from 'vitest';
import {
  type ForecastInput,
  forecastBacklog,
  forecastInputSchema,
  littleWait,
} from '@/lib/queue/rules/forecast';

// Long computations: a busy machine may need a while.
vi.setConfig({ testTimeout: 120_000 });

const everyMonth = (value: number) => Array.from({ length: 12 }, () => value);
const forecast = (change: Partial<ForecastInput>) =>
  forecastBacklog(
    forecastInputSchema.parse({
      startOn: '2026-01-05',
      backlog: 0,
      intakePerWeek: everyMonth(0),
      people: everyMonth(1),
      birdsPerPersonWeek: 1,
      runs: 4000,
      seed: 20_260_305,
      ...change,
    }),
  );
const last = <T>(list: readonly T[]): T => {
  const item = list.at(-1);
  if (item === undefined) throw new Error('Empty.');
  return item;
};
/** Five standard errors of a mean of 4,000 runs. */
const fiveErrors = (variance: number) => 5 * Math.sqrt(variance / 4000);

describe("Little's law", () => {
  // Little & Graves 2008, "Little's Law", in Building Intuition: 160 in the system, 8 a month, so 20 months.
  it('L = 160 and λ = 8 a month make W = 20 months', () => {
    expect(littleWait(160, 8)).toBe(20);
  });

  it('has no answer when nothing passes through', () => {
    expect(littleWait(5, 0)).toBeNull();
  });
});

describe('the forecast against queues with a closed form (textbook results, from memory: Kleinrock 1975, vol. 1)', () => {
  it('M/M/1 in its steady state: mean ρ/(1−ρ), geometric quantiles, wait 1/(μ−λ)', () => {
    const rho = 0.7;
    const { weeks, little } = forecast({ intakePerWeek: everyMonth(rho), weeks: 520 });
    const end = last(weeks);
    const mean = rho / (1 - rho);
    expect(Math.abs(end.mean - mean)).toBeLessThan(fiveErrors(rho / (1 - rho) ** 2));
    // P(N ≤ n) = 1 − ρ^(n+1): the least n at which that reaches the share.
    const quantile = (share: number) => Math.max(0, Math.ceil(Math.log(1 - share) / Math.log(rho) - 1));
    expect(Math.abs(end.p50 - quantile(0.5))).toBeLessThanOrEqual(1);
    expect(Math.abs(end.p75 - quantile(0.75))).toBeLessThanOrEqual(1);
    expect(Math.abs(end.p95 - quantile(0.95))).toBeLessThanOrEqual(1);
    expect(end.p5).toBeLessThanOrEqual(mean);
    expect(end.p95).toBeGreaterThanOrEqual(mean);
    // The 520 weeks begin with an empty queue, which makes their mean a little lower than the steady state's.
    expect(Math.abs((little.waitWeeks ?? 0) - 1 / (1 - rho)) * (1 - rho)).toBeLessThan(0.06);
  });

  it('M/M/2: mean number by the Erlang C formula', () => {
    const load = 1.2;
    const { weeks } = forecast({ intakePerWeek: everyMonth(load), people: everyMonth(2), weeks: 520 });
    const rho = load / 2;
    const waiting = load ** 2 / 2 / (1 - rho);
    const mustWait = waiting / (1 + load + waiting);
    const mean = load + (mustWait * rho) / (1 - rho);
    expect(Math.abs(last(weeks).mean - mean)).toBeLessThan(fiveErrors(6));
  });

  it('intake alone is Poisson: mean and variance λt', () => {
    const { weeks } = forecast({ intakePerWeek: everyMonth(4), people: everyMonth(0), weeks: 25 });
    const end = last(weeks);
    expect(Math.abs(end.mean - 100)).toBeLessThan(fiveErrors(100));
    // Quantiles of Poisson(100) by its normal approximation: 100 ± 1.645 × 10.
    expect(Math.abs(end.p5 - 83.55)).toBeLessThan(2.5);
    expect(Math.abs(end.p95 - 116.45)).toBeLessThan(2.5);
  });

  it('a backlog worked off without intake clears after an Erlang time', () => {
    // 400 birds at 10 a week: mean 40 weeks, standard deviation 2; the middle and the 10 % and 90 % points.
    const { clears } = forecast({ backlog: 400, birdsPerPersonWeek: 10, weeks: 60 });
    const weeksTo = (day: string | null) =>
      (Date.parse(day ?? '') - Date.parse('2026-01-05')) / (7 * 86_400_000);
    expect(Math.abs(weeksTo(clears.middle) - 40)).toBeLessThan(0.4);
    expect(Math.abs(weeksTo(clears.early) - (40 - 1.2816 * 2))).toBeLessThan(0.5);
    expect(Math.abs(weeksTo(clears.late) - (40 + 1.2816 * 2))).toBeLessThan(0.5);
  });
});
