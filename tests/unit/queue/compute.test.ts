import { describe, expect, it, vi } from 'vitest';
import { runInThread } from '@/lib/queue/compute';
import { planDay } from '@/lib/queue/plan';
import { forecastBacklog, forecastInputSchema } from '@/lib/queue/rules/forecast';
import { planProblemSchema } from '@/lib/queue/schema';

// Long computations: a busy machine may need a while.
vi.setConfig({ testTimeout: 120_000 });

const months = (value: number) => Array.from({ length: 12 }, () => value);
const input = forecastInputSchema.parse({
  startOn: '2026-01-05',
  backlog: 10,
  intakePerWeek: months(2),
  people: months(2),
  birdsPerPersonWeek: 1.5,
  weeks: 10,
  runs: 100,
});
const problem = planProblemSchema.parse({
  planOn: '2026-03-05',
  people: [
    {
      personId: 'ines',
      name: 'Ines Brandt',
      fromMinute: 540,
      untilMinute: 720,
      skills: [{ style: 'fluid', sizeClass: 'small', level: 'alone' }],
    },
  ],
  birds: [{ birdId: 'b', label: 'B', style: 'fluid', sizeClass: 'small', priority: 10, minutes: 60 }],
  settings: {},
});

describe('a thread of its own', () => {
  it('answers a forecast and a plan as they are answered here', async () => {
    expect(await runInThread({ kind: 'forecast', input })).toEqual(forecastBacklog(input));
    expect(await runInThread({ kind: 'plan', problem, seconds: 10 })).toEqual(await planDay(problem, 10));
  });

  it('passes an error on', async () => {
    const wrong = { ...problem, fixed: [{ personId: 'gone', birdId: 'b' }] };
    await expect(runInThread({ kind: 'plan', problem: wrong, seconds: 10 })).rejects.toThrow(/gone/);
  });

  it('ends when it is cancelled', async () => {
    const long = { ...input, backlog: 1_000_000, birdsPerPersonWeek: 100_000, runs: 20_000 };
    const cancel = new AbortController();
    const answer = runInThread({ kind: 'forecast', input: long }, cancel.signal);
    setTimeout(() => cancel.abort(new Error('cancelled by a person')), 50);
    await expect(answer).rejects.toThrow('cancelled by a person');
  });
});
