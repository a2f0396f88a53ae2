import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { changeOf } from '@/tests/bench/live';
import { type Measured, measure, runRound, shareActs, slopePerMinute, summarise } from '@/tests/bench/load';
import { readOptions } from '@/tests/bench/options';
import { slopesOf } from '@/tests/bench/soak-figures';

const round = (p50: number, failed = 0) => ({
  perSecond: 100,
  p50,
  p95: p50 * 2,
  p99: p50 * 3,
  count: 10,
  failed,
});

describe('the figures of the bench', () => {
  it('takes medians over the rounds, their distance, and sums of requests', () => {
    const all: Measured = summarise([round(10), round(30, 2), round(20)]);
    expect(all).toEqual({ perSecond: 100, p50: 20, p95: 40, p99: 60, count: 30, failed: 2, spread: 1 });
  });

  it('a round does no more than it may, and counts what failed', async () => {
    let done = 0;
    const { count, failed } = await runRound(4, { seconds: 60, times: 10, pauseMs: 0 }, async () => {
      done += 1;
      return done % 5 !== 0;
    });
    expect([done, count, failed]).toEqual([10, 10, 2]);
  });

  it('who would pause or begin after the end of a round does not', async () => {
    const limit = { seconds: 60, times: 100, pauseMs: 600_000 };
    // The second of three would begin after a third of the pause.
    expect((await runRound(3, limit, async () => true)).count).toBe(1);
  });

  it('shares its acts between a round that warms up and those that count', async () => {
    let done = 0;
    const once = async () => {
      done += 1;
      return true;
    };
    const limit = { seconds: 60, times: 12, pauseMs: 0, rounds: 3, warmUpS: 60 };
    expect(await measure(2, limit, once)).toMatchObject({ count: 9, failed: 0 });
    expect(done).toBe(12);
    expect(await measure(2, { ...limit, times: 1 }, once)).toBeNull();
  });

  it('where a round takes longer than all should last there is one', async () => {
    const once = () => setTimeout(100, true);
    const limit = { seconds: 0.01, times: Number.POSITIVE_INFINITY, pauseMs: 0, rounds: 3, warmUpS: 0.01 };
    expect(await measure(1, limit, once)).toMatchObject({ count: 1 });
  });

  it.each([
    ['enough', 400, 20, 3, { rounds: 3, perRound: 100, warmUp: 100 }],
    [
      'a round of as many as users first, then the warm-up',
      70,
      20,
      3,
      { rounds: 3, perRound: 20, warmUp: 10 },
    ],
    ['fewer rounds', 50, 20, 3, { rounds: 2, perRound: 20, warmUp: 10 }],
    ['nothing left to warm up', 20, 20, 3, { rounds: 1, perRound: 20, warmUp: 0 }],
    ['too few for the users', 19, 20, 3, null],
  ])('%s: %i acts for %i users in %i rounds', (_, times, users, rounds, share) => {
    expect(shareActs(times, users, rounds)).toEqual(share);
  });

  it('without an end of acts every round may have any number', () => {
    const share = { rounds: 3, perRound: Number.POSITIVE_INFINITY, warmUp: Number.POSITIVE_INFINITY };
    expect(shareActs(Number.POSITIVE_INFINITY, 100, 3)).toEqual(share);
  });

  it('a slope is what is gained in a minute, whatever the level', () => {
    expect(slopePerMinute([100, 101, 102, 103], 10)).toBeCloseTo(6);
    expect(slopePerMinute([50, 50, 50], 10)).toBe(0);
    // By hand: deviations −1, 0, 1 with values 0, 3, 0 give 0.
    expect(slopePerMinute([0, 3, 0], 10)).toBe(0);
    expect(slopePerMinute([7], 10)).toBe(0);
    expect(slopePerMinute([], 10)).toBe(0);
  });

  it('a soak’s slopes leave its first third out', () => {
    const samples = [100, 200, 300, 300, 300, 300].map((residentMb, at) => ({
      atS: at * 10,
      residentMb,
      openFiles: 40 + at,
      connections: 20,
    }));
    const slopes = slopesOf({ samples });
    expect(slopes.residentMb).toBe(0);
    expect(slopes.openFiles).toBeCloseTo(6);
    expect(slopes.connections).toBe(0);
  });
});

describe('what an open page hears', () => {
  it('a change, but not a sign of life', () => {
    const change = {
      collectionId: '0199c6a1-0000-7000-8000-000000000001',
      seq: 5,
      kind: 'salvage.reported',
      subjectType: 'salvage',
      subjectId: '0199c6a1-0000-7000-8000-000000000002',
      birdId: null,
      actorId: null,
    };
    expect(changeOf(`data: ${JSON.stringify(change)}`)).toEqual(change);
    expect(changeOf(': still here')).toBeNull();
  });
});

describe('the arguments of the bench', () => {
  it('without any: three sizes, everything, on a server that is thrown away', () => {
    expect(readOptions([])).toEqual({
      materials: [10_000, 100_000, 1_000_000],
      rounds: 3,
      seconds: 0.8,
      only: null,
      keep: null,
      soakMinutes: 0,
      isReadme: false,
      isSaved: false,
    });
  });

  it('sizes ascend and stand once', () => {
    expect(readOptions(['--materials', '5000,1000,5000']).materials).toEqual([1000, 5000]);
  });

  it.each([
    [['--materials', '999'], '--materials'],
    [['--materials', '10000,many'], '--materials'],
    [['--rounds', '0'], '--rounds'],
    [['--seconds', '0'], '--seconds'],
    [['--soak', 'long'], '--soak'],
  ])('%j is refused', (args, named) => {
    expect(() => readOptions(args)).toThrow(named);
  });
});
