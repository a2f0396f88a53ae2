import { describe, expect, it } from 'vitest';
import { type Measured, runRound, summarise } from '@/tests/bench/load';
import { ratioOf, sayReport } from '@/tests/bench/table';

const round = (p50: number, failed = 0) => ({
  perSecond: 100,
  p50,
  p95: p50 * 2,
  p99: p50 * 3,
  count: 10,
  failed,
});
const measured = (p50: number): Measured => ({ ...round(p50), spread: 0 });
const line = (act: string, p50: number, bare: number | null) => ({
  act,
  kind: 'read' as const,
  users: 20,
  http: measured(p50),
  bare: bare === null ? null : measured(bare),
});

describe('the figures of the bench', () => {
  it('takes medians over the rounds, their distance, and sums of requests', () => {
    expect(summarise([round(10), round(30, 2), round(20)])).toEqual({
      perSecond: 100,
      p50: 20,
      p95: 40,
      p99: 60,
      count: 30,
      failed: 2,
      spread: 1,
    });
  });

  it('a round does no more than it may, and counts what failed', async () => {
    let done = 0;
    const { count, failed } = await runRound(4, { seconds: 60, times: 10 }, async () => {
      done += 1;
      return done % 5 !== 0;
    });
    expect([done, count, failed]).toEqual([10, 10, 2]);
  });

  it('holds an act against the empty route and its bare statements together, at the same number of users', () => {
    const empty = [
      { users: 1, http: measured(1) },
      { users: 20, http: measured(10) },
    ];
    expect(ratioOf(line('queue', 30, 5), empty)).toBe(2);
    expect(ratioOf(line('claim', 30, null), empty)).toBeNull();
    expect(ratioOf({ ...line('queue', 30, 5), users: 100 }, empty)).toBeNull();
  });

  it('names the three worst ratios, the worst first', () => {
    const text = sayReport({
      machine: 'A machine.',
      materials: 1000,
      birds: 250,
      filledInS: null,
      empty: [{ users: 20, http: measured(10) }],
      lines: [
        line('a', 20, 10),
        line('b', 60, 10),
        line('c', 40, 10),
        line('d', 80, 10),
        line('e', 90, null),
      ],
      memoryMb: null,
    });
    expect(text.match(/^- .*$/gm)).toEqual([
      '- d, 20 users: 4.00',
      '- b, 20 users: 3.00',
      '- c, 20 users: 2.00',
    ]);
  });
});
