import { performance } from 'node:perf_hooks';
import { setTimeout } from 'node:timers/promises';
import { quantile } from 'd3-array';

/** What one round of requests showed; times in ms. */
export type Round = {
  perSecond: number;
  p50: number;
  p95: number;
  p99: number;
  count: number;
  failed: number;
};
/** Medians over the rounds; `spread` is the distance of the rounds' medians of time, in parts of their median. */
export type Measured = Round & { spread: number };

/**
 * A round ends after a time or a number of acts, whichever comes first. With `pauseMs` each person waits so long after
 * an answer before the next act, and they begin evenly spread over that pause; with 0 they act as fast as they are answered.
 */
export type Limit = { seconds: number; times: number; pauseMs: number };

const median = (values: number[]): number => quantile(values, 0.5) ?? 0;

/** So many users do one thing. @param once resolves to whether it went well */
export async function runRound(
  users: number,
  { seconds, times, pauseMs }: Limit,
  once: () => Promise<boolean>,
): Promise<Round> {
  const took: number[] = [];
  let begun = 0;
  let failed = 0;
  const start = performance.now();
  const end = start + seconds * 1000;
  const user = async (_: unknown, index: number) => {
    const beginMs = (pauseMs * index) / users;
    if (beginMs >= seconds * 1000) return;
    if (beginMs > 0) await setTimeout(beginMs);
    while (begun < times && performance.now() < end) {
      begun += 1;
      const at = performance.now();
      if (!(await once())) failed += 1;
      took.push(performance.now() - at);
      if (performance.now() + pauseMs >= end) return;
      if (pauseMs > 0) await setTimeout(pauseMs);
    }
  };
  await Promise.all(Array.from({ length: users }, user));
  const [p50, p95, p99] = [0.5, 0.95, 0.99].map((part) => quantile(took, part) ?? 0) as [
    number,
    number,
    number,
  ];
  const perSecond = took.length / ((performance.now() - start) / 1000);
  return { perSecond, p50, p95, p99, count: took.length, failed };
}

export function summarise(rounds: readonly Round[]): Measured {
  const all = (key: keyof Round) => rounds.map((round) => round[key]);
  const middle = median(all('p50'));
  const spread = middle === 0 ? 0 : (Math.max(...all('p50')) - Math.min(...all('p50'))) / middle;
  const sum = (key: keyof Round) => all(key).reduce((total, one) => total + one, 0);
  return {
    perSecond: median(all('perSecond')),
    p50: middle,
    p95: median(all('p95')),
    p99: median(all('p99')),
    count: sum('count'),
    failed: sum('failed'),
    spread,
  };
}

/**
 * How so many acts are shared between a round that warms up and those that count: these get at least one for each user,
 * else there would be fewer users than is said, and are fewer where there are not enough acts. Null: not even one round.
 */
export function shareActs(
  times: number,
  users: number,
  rounds: number,
): { rounds: number; perRound: number; warmUp: number } | null {
  if (times === Number.POSITIVE_INFINITY) return { rounds, perRound: times, warmUp: times };
  const possible = Math.min(rounds, Math.floor(times / users));
  if (possible < 1) return null;
  const perRound = Math.max(users, Math.floor(times / (possible + 1)));
  return { rounds: possible, perRound, warmUp: Math.min(perRound, Math.floor(times) - possible * perRound) };
}

/** Slow acts of many users: no round begins after so many times what all should last. */
const PATIENCE = 3;

/**
 * So long an act is done before it is measured for the first time: a program that has not yet met its code runs it two
 * or three times as slowly as one that serves.
 */
export const FIRST_WARM_UP_S = 5;

/**
 * Several rounds after one that warms up and does not count; fewer, but one, where the first ones take long. `times` is
 * for all together; null when that is too few.
 */
export async function measure(
  users: number,
  { rounds, warmUpS, ...limit }: Limit & { rounds: number; warmUpS: number },
  once: () => Promise<boolean>,
): Promise<Measured | null> {
  const share = shareActs(limit.times, users, rounds);
  if (share === null) return null;
  const last = performance.now() + PATIENCE * rounds * limit.seconds * 1000;
  await runRound(users, { ...limit, times: share.warmUp, seconds: warmUpS }, once);
  const all: Round[] = [];
  while (all.length === 0 || (all.length < share.rounds && performance.now() < last))
    all.push(await runRound(users, { ...limit, times: share.perRound }, once));
  return summarise(all);
}

/** What a value gains in a minute by least squares over samples taken `everyS` seconds apart; 0 for fewer than two. */
export function slopePerMinute(values: readonly number[], everyS: number): number {
  const middle = (values.length - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = values.reduce((sum, _, at) => sum + (at - middle) ** 2, 0);
  if (spread === 0) return 0;
  const together = values.reduce((sum, value, at) => sum + (at - middle) * (value - mean), 0);
  return (together / spread) * (60 / everyS);
}
