import { describe, expect, it } from 'vitest';
import { judge } from '@/tests/bench/goals';
import { growthOf } from '@/tests/bench/growth';
import type { Measured } from '@/tests/bench/load';
import { sayBench, writeInto } from '@/tests/bench/readme';
import { type Line, type Report, ratioOf, sayReport, sayWorst } from '@/tests/bench/table';

const measured = (p50: number): Measured => ({
  perSecond: 100,
  p50,
  p95: p50 * 2,
  p99: p50 * 3,
  count: 10,
  failed: 0,
  spread: 0,
});
const line = (act: string, p50: number, bare: number | null, more: Partial<Line> = {}): Line => ({
  act,
  kind: 'read',
  isKeyed: true,
  users: 20,
  pauseMs: 0,
  http: measured(p50),
  bare: bare === null ? null : measured(bare),
  ...more,
});
const report = (more: Partial<Report> = {}): Report => ({
  machine: 'A machine.',
  on: '2026-01-02',
  materials: 1000,
  birds: 250,
  filledInS: null,
  startedInMs: 1500,
  empty: [{ users: 20, http: measured(10) }],
  lines: [],
  memoryMb: { atRest: 100, most: [{ users: 100, mb: 300 }] },
  live: null,
  errands: [],
  soak: null,
  ...more,
});

describe('ratios', () => {
  const empty = [
    { users: 1, http: measured(1) },
    { users: 20, http: measured(10) },
  ];

  it.each([
    ['an act against both together at the same number of users', line('queue', 30, 5), 2],
    ['no bare side', line('claim', 30, null), null],
    ['no empty route at this number of users', line('queue', 30, 5, { users: 100 }), null],
    ['people who pause', line('queue', 30, 5, { pauseMs: 1000 }), null],
  ])('%s', (_, one, ratio) => {
    expect(ratioOf(one, empty)).toBe(ratio);
  });

  it('the three worst are named, the worst first', () => {
    const lines = [
      line('a', 20, 10),
      line('b', 60, 10),
      line('c', 40, 10),
      line('d', 80, 10),
      line('e', 90, null),
    ];
    const worst = ['- d, 20 users: 4.00', '- b, 20 users: 3.00', '- c, 20 users: 2.00'];
    expect(sayWorst(report({ lines }))).toEqual(worst);
    expect(sayReport(report({ lines }))).toContain(worst.join('\n'));
  });
});

describe('growth', () => {
  it('is the largest size’s time over the smallest’s, for acts that every size has', () => {
    const small = report({ lines: [line('queue', 10, null), line('gone', 1, null)] });
    const middle = report({ materials: 10_000, lines: [line('queue', 11, null)] });
    const large = report({
      materials: 100_000,
      lines: [line('queue', 15, null), line('queue', 9, null, { pauseMs: 1000 })],
    });
    expect(growthOf([large, small, middle])).toEqual([
      {
        act: 'queue',
        kind: 'read',
        isKeyed: true,
        users: 20,
        p50: [
          { materials: 1000, ms: 10 },
          { materials: 10_000, ms: 11 },
          { materials: 100_000, ms: 15 },
        ],
        times: 1.5,
      },
    ]);
    expect(growthOf([large])).toEqual([]);
  });
});

describe('goals', () => {
  const met = (reports: Report[], goal: string) => judge(reports).find((one) => one.goal.includes(goal));

  it('a read over 1.6 times is counted; a write’s ratio is not', () => {
    const lines = [line('queue', 32, 10), line('desk', 33, 10), line('claim', 99, 1, { kind: 'write' })];
    expect(met([report({ lines })], 'each main read')).toMatchObject({
      figure: '1 of 2 lines over; worst desk, 20 users: 1.65',
      isMet: false,
    });
    expect(met([report({ lines: lines.slice(0, 1) })], 'each main read')?.isMet).toBe(true);
  });

  it.each([
    ['reads by keys', true, 'queue', 14, true],
    ['reads by keys', true, 'queue', 15, false],
    ['searches with facets', false, 'search by kind', 29, true],
    ['searches with facets', false, 'search by kind', 30, false],
  ])('%s, keyed %s, %s: from 10 to %i ms is met: %s', (goal, isKeyed, act, ms, isMet) => {
    const small = report({ lines: [line(act, 10, null, { isKeyed })] });
    const large = report({ materials: 1_000_000, lines: [line(act, ms, null, { isKeyed })] });
    expect(met([small, large], goal)?.isMet).toBe(isMet);
  });

  it('autosave is held against its bare transaction alone', () => {
    const of = (p50: number) => report({ lines: [line('bench autosave', p50, 10, { kind: 'write' })] });
    expect(met([of(29)], 'autosave')?.isMet).toBe(true);
    expect(met([of(30)], 'autosave')?.isMet).toBe(false);
  });

  it('memory is that of the most users; live connections must all hear', () => {
    const live = { listeners: 200, beforeMb: 200, afterMb: 220, heard: 200, medianMs: 10, longestMs: 20 };
    expect(met([report()], '400 MB')?.isMet).toBe(true);
    const most = [
      { users: 1, mb: 100 },
      { users: 100, mb: 401 },
    ];
    expect(met([report({ memoryMb: { atRest: 90, most } })], '400 MB')?.isMet).toBe(false);
    expect(met([report({ live })], 'live')?.isMet).toBe(true);
    expect(met([report({ live: { ...live, heard: 199 } })], 'live')?.isMet).toBe(false);
    expect(met([report({ live: { ...live, afterMb: 400 } })], 'live')?.isMet).toBe(false);
  });

  it('those of one size are held against the largest', () => {
    const small = report({ lines: [line('queue', 99, 1)] });
    const large = report({ materials: 9000, lines: [line('queue', 11, 1)] });
    expect(met([large, small], 'each main read')?.isMet).toBe(true);
  });
});

describe('the table over sizes', () => {
  const lines = [line('queue', 30, 5), line('queue', 8, null, { pauseMs: 1000 })];
  const text = sayBench(
    [report({ materials: 9000, lines }), report({ lines: [line('queue', 20, 5)] })],
    [{ name: 'The day plan', said: ['500 birds'] }],
  );

  it('has one row an act: times, the p95 of people who pause, bare side, ratio and growth', () => {
    expect(text).toContain('| queue | 30 / 60 / 90, 100/s | 16 | 5.0 | 2.00 | 1.50 |');
    expect(text).toContain(
      '| act | 20 users | 20 with 1 s between acts, p95 | bare p50, 20 | ratio, 20 | growth, 20 |',
    );
  });

  it('every row has as many cells as its head', () => {
    const rows = text.split('\n').filter((one) => one.startsWith('| ') && !one.startsWith('| goal'));
    const acts = rows.slice(0, rows.findIndex((one) => one.includes('each main read')) - 1);
    expect(acts.length).toBeGreaterThan(3);
    expect(new Set(acts.map((one) => one.split('|').length)).size).toBe(1);
  });

  it('names the machine, the worst, every size and what programs said', () => {
    for (const part of [
      'A machine.',
      '- queue, 20 users: 2.00',
      'With 1,000 materials:',
      'The day plan:',
      '- 500 birds',
    ])
      expect(text).toContain(part);
  });
});

describe('the section of the README', () => {
  const plain = '# Title\n\n## Security\nPromises.\n';

  it('is made before Security, and replaced between its marks only', () => {
    const once = writeInto(plain, 'first');
    expect(once).toMatch(
      /^# Title\n\n## How fast it is\n<!-- .* -->\nfirst\n<!-- .* -->\n\n## Security\nPromises\.\n$/,
    );
    const noted = once.replace('end -->', 'end -->\nWhy.');
    expect(writeInto(noted, 'second')).toBe(noted.replace('first', 'second'));
  });

  it('broken marks and a missing place are refused', () => {
    const once = writeInto(plain, 'first');
    expect(() => writeInto(once.replace('end -->', '-->'), 'second')).toThrow('one mark');
    expect(() => writeInto('# Title\n', 'first')).toThrow('Security');
  });
});
