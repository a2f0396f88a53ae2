import { performance } from 'node:perf_hooks';
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

const median = (values: number[]): number => quantile(values, 0.5) ?? 0;

/**
 * So many users do one thing as fast as it is answered, for a time or a number of times, whichever ends first.
 * @param once resolves to whether it went well
 */
export async function runRound(
  users: number,
  limit: { seconds: number; times: number },
  once: () => Promise<boolean>,
): Promise<Round> {
  const took: number[] = [];
  let begun = 0;
  let failed = 0;
  const start = performance.now();
  const user = async () => {
    while (begun < limit.times && performance.now() - start < limit.seconds * 1000) {
      begun += 1;
      const at = performance.now();
      if (!(await once())) failed += 1;
      took.push(performance.now() - at);
    }
  };
  await Promise.all(Array.from({ length: users }, user));
  const seconds = (performance.now() - start) / 1000;
  const [p50, p95, p99] = [0.5, 0.95, 0.99].map((part) => quantile(took, part) ?? 0) as [
    number,
    number,
    number,
  ];
  return { perSecond: took.length / seconds, p50, p95, p99, count: took.length, failed };
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
