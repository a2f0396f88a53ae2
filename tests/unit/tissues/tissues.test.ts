import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { vialStateWhenFound } from '@/lib/storage/keeping';
import { computeTimeExposed } from '@/lib/tissues/exposure';
import {
  canBecome,
  checkDuplicatesApart,
  consumeFromVial,
  endOfDay,
  fillObstacle,
  formatAmount,
  nextDerivedSuffix,
  subtractAmount,
  takeSubSample,
  type VialStock,
  vialTransitions,
} from '@/lib/tissues/rules';
import { type Amount, preservationSchema, tissueTimesSchema, vialStates } from '@/lib/tissues/schema';
import { judgeUses, type UseFacts } from '@/lib/tissues/uses';

const stock = (amount: Amount | null, state: VialStock['state'] = 'stored'): VialStock => ({
  suffix: 'T1',
  amount,
  state,
  thawCount: 0,
});

describe('taking from a vial', () => {
  it('reduces the amount in its own unit', () => {
    const taken = consumeFromVial(stock({ value: 1.5, unit: 'g' }), { value: 250, unit: 'mg' });
    expect(taken).toEqual({ ok: true, value: { amount: { value: 1.25, unit: 'g' }, state: 'partly-used' } });
  });

  it('uses it up at exactly nothing, without drift over many small takings', () => {
    let vial = stock({ value: 1, unit: 'mg' });
    for (let time = 0; time < 10; time += 1) {
      const taken = consumeFromVial(vial, { value: 0.1, unit: 'mg' });
      if (!taken.ok) throw new Error(taken.message);
      vial = { ...vial, ...taken.value };
    }
    expect(vial).toMatchObject({ amount: { value: 0 }, state: 'used-up' });
  });

  it.each([
    [
      'more than there is',
      stock({ value: 10, unit: 'mg' }),
      { value: 10.001, unit: 'mg' },
      'more-than-there-is',
    ],
    ['volume from a mass', stock({ value: 10, unit: 'mg' }), { value: 1, unit: 'ml' }, 'other-dimension'],
    ['nothing', stock({ value: 10, unit: 'mg' }), { value: 0, unit: 'mg' }, 'nothing-taken'],
    ['from one never measured', stock(null), { value: 1, unit: 'mg' }, 'not-measured'],
    [
      'from one without a place',
      stock({ value: 10, unit: 'mg' }, 'filled'),
      { value: 1, unit: 'mg' },
      'not-available',
    ],
    ['from a lost one', stock({ value: 10, unit: 'mg' }, 'lost'), { value: 1, unit: 'mg' }, 'not-available'],
    [
      'from a used-up one',
      stock({ value: 0, unit: 'mg' }, 'used-up'),
      { value: 1, unit: 'mg' },
      'not-available',
    ],
  ] as const)('refuses to take %s', (_, vial, amount, reason) => {
    expect(consumeFromVial(vial, amount)).toMatchObject({ ok: false, reason });
  });

  const amountArbitrary = fc.record({
    value: fc.integer({ min: 0, max: 3_000_000 }).map((n) => n / 1000),
    unit: fc.constantFrom('mg' as const, 'g' as const),
  });
  const inUg = (amount: Amount) => Math.round(amount.value * (amount.unit === 'g' ? 1_000_000 : 1_000));

  it('any history of takings and sub-samples keeps the sum and never goes below zero', () => {
    const acts = fc.array(fc.record({ taken: amountArbitrary, isSub: fc.boolean(), pick: fc.nat() }), {
      maxLength: 40,
    });
    fc.assert(
      fc.property(amountArbitrary, acts, (start, history) => {
        const vials = [stock(start)];
        const suffixes = ['T1'];
        let consumed = 0;
        for (const { taken, isSub, pick } of history) {
          const index = pick % vials.length;
          const vial = vials[index] as VialStock;
          if (isSub) {
            const split = takeSubSample(vial, taken, suffixes, true);
            if (!split.ok) continue;
            vials[index] = { ...vial, ...split.value.parent };
            suffixes.push(split.value.derived.suffix);
            vials.push({ ...split.value.derived, state: 'stored' });
          } else {
            const result = consumeFromVial(vial, taken);
            if (!result.ok) continue;
            vials[index] = { ...vial, ...result.value };
            consumed += inUg(taken);
          }
        }
        const left = vials.reduce((sum, vial) => sum + inUg(vial.amount as Amount), 0);
        return (
          vials.every((vial) => (vial.amount as Amount).value >= 0) &&
          left + consumed === inUg(start) &&
          new Set(suffixes).size === suffixes.length
        );
      }),
    );
  });

  it('gives a sub-sample its own suffix and both the thaw', () => {
    const split = takeSubSample(
      stock({ value: 100, unit: 'mg' }),
      { value: 30, unit: 'mg' },
      ['T1', 'T1.1'],
      true,
    );
    expect(split).toEqual({
      ok: true,
      value: {
        parent: { amount: { value: 70, unit: 'mg' }, state: 'partly-used', thawCount: 1 },
        derived: { suffix: 'T1.2', amount: { value: 30, unit: 'mg' }, state: 'filled', thawCount: 1 },
      },
    });
  });

  it('never gives a suffix again, and does not mistake T10 for T1', () => {
    expect(nextDerivedSuffix('T1', ['T1', 'T10', 'T10.4', 'T1.2'])).toBe('T1.3');
    expect(nextDerivedSuffix('T1.2', ['T1.2', 'T1.3'])).toBe('T1.2.1');
  });

  it('writes amounts as people do', () => {
    expect(formatAmount({ value: 1, unit: 'pieces' })).toBe('1 piece');
    expect(formatAmount({ value: 30, unit: 'ul' })).toBe('30 µl');
    expect(subtractAmount({ value: 2, unit: 'ml' }, { value: 500, unit: 'ul' })).toEqual({
      ok: true,
      value: { value: 1.5, unit: 'ml' },
    });
  });
});

describe('states of a vial', () => {
  it('follow the table: filled, stored, partly used, used up or lost', () => {
    expect(canBecome('filled', 'stored')).toBe(true);
    expect(canBecome('filled', 'partly-used')).toBe(false);
    expect(vialStates.filter((state) => canBecome('used-up', state))).toEqual([]);
    expect(vialTransitions.lost).toContain(vialStateWhenFound(false));
    expect(vialTransitions.lost).toContain(vialStateWhenFound(true));
    expect(canBecome('lost', 'used-up')).toBe(false);
  });

  it('every state can be reached from filled', () => {
    const reached = new Set(['filled']);
    for (const state of reached) for (const next of vialTransitions[state as 'filled']) reached.add(next);
    expect([...reached].sort()).toEqual([...vialStates].sort());
  });
});

describe('time without cold', () => {
  it('sums its spells, with the death interval as least and most', () => {
    const times = tissueTimesSchema.parse({
      diedFromAt: '2026-03-03T06:00:00Z',
      diedUntilAt: '2026-03-03T10:00:00Z',
      frozenAt: '2026-03-03T12:00:00Z',
      outOfFreezerAt: '2026-03-20T08:00:00Z',
      sampledAt: '2026-03-20T11:00:00Z',
      preservedAt: '2026-03-20T11:30:00Z',
    });
    expect(computeTimeExposed(times)).toEqual({
      spells: [
        { name: 'before-freezing', leastHours: 2, mostHours: 6 },
        { name: 'thawing', leastHours: 3, mostHours: 3 },
        { name: 'on-the-bench', leastHours: 0.5, mostHours: 0.5 },
      ],
      leastHours: 5.5,
      mostHours: 9.5,
      unknown: [],
    });
  });

  it('a bird never frozen goes from death to the bench', () => {
    const times = tissueTimesSchema.parse({
      diedFromAt: '2026-03-03T06:00:00Z',
      sampledAt: '2026-03-03T07:00:00Z',
      preservedAt: '2026-03-03T07:10:00Z',
    });
    const exposed = computeTimeExposed(times);
    expect(exposed.spells.map((spell) => spell.name)).toEqual(['before-freezing', 'on-the-bench']);
    expect(exposed.unknown).toEqual([]);
  });

  it('names what is not on record', () => {
    const exposed = computeTimeExposed(tissueTimesSchema.parse({ frozenAt: '2026-03-03T12:00:00Z' }));
    expect(exposed.unknown).toEqual(['before-freezing', 'thawing', 'on-the-bench']);
  });

  it('refuses times in the wrong order', () => {
    const wrong = tissueTimesSchema.safeParse({
      outOfFreezerAt: '2026-03-20T08:00:00Z',
      sampledAt: '2026-03-20T07:00:00Z',
    });
    expect(wrong.error?.issues[0]?.path).toEqual(['sampledAt']);
  });
});

describe('preservation', () => {
  it('wants a percentage with ethanol and only there', () => {
    expect(preservationSchema.safeParse({ kind: 'ethanol', ethanolPercent: 95 }).success).toBe(true);
    expect(preservationSchema.safeParse({ kind: 'ethanol' }).success).toBe(false);
    expect(preservationSchema.safeParse({ kind: 'frozen', ethanolPercent: 95 }).success).toBe(false);
  });
});

// Limits are settings; common practice, no source.
describe('what a vial is still good for', () => {
  const facts: UseFacts = {
    quality: { stars: 3 },
    exposed: { spells: [], leastHours: 0.5, mostHours: 0.5, unknown: [] },
    thawCount: 0,
    preservation: { kind: 'frozen', ethanolPercent: null, temperatureC: -80 },
  };
  const verdictOf = (use: string, changed: Partial<UseFacts>) =>
    judgeUses({ ...facts, ...changed }).find((entry) => entry.use === use);

  it('everything, when fresh, cold and quick', () => {
    expect(judgeUses(facts).map((entry) => entry.verdict)).toEqual(Array(6).fill('good'));
  });

  it('says why not', () => {
    expect(verdictOf('rna', { thawCount: 1 })).toMatchObject({
      verdict: 'unfit',
      reason: 'RNA does not outlast a thaw.',
    });
    expect(verdictOf('long-read-genome', { quality: { stars: 2 } })?.verdict).toBe('doubtful');
    const warm = { spells: [], leastHours: 30, mostHours: 50, unknown: [] };
    expect(verdictOf('long-read-genome', { exposed: warm })).toMatchObject({ verdict: 'unfit' });
    expect(verdictOf('long-read-genome', { exposed: warm })?.reason).toContain('At least 30 h');
    const perhaps = { spells: [], leastHours: 3, mostHours: 50, unknown: [] };
    expect(verdictOf('long-read-genome', { exposed: perhaps })?.verdict).toBe('doubtful');
    expect(verdictOf('short-markers', { exposed: warm, thawCount: 9 })?.verdict).toBe('good');
  });
});

describe('duplicates', () => {
  it('lie apart only in different freezers', () => {
    expect(checkDuplicatesApart(['a', 'b']).isApart).toBe(true);
    expect(checkDuplicatesApart(['a', 'a'])).toMatchObject({ isApart: false });
    expect(checkDuplicatesApart(['a', null]).message).toContain('Only one');
  });
});

describe('what filling takes from the bird', () => {
  it.each([
    ['UTC', '2026-03-05', '2026-03-05T23:59:59.999Z'],
    ['America/New_York', '2026-01-15', '2026-01-16T04:59:59.999Z'],
    ['America/New_York', '2026-07-15', '2026-07-16T03:59:59.999Z'],
    ['Asia/Kolkata', '2026-03-05', '2026-03-05T18:29:59.999Z'],
  ])('a day ends by the clock of the place: %s %s', (timeZone, day, expected) => {
    expect(endOfDay(day, timeZone).toISOString()).toBe(expected);
  });

  it('nothing is filled from a bird that is gone', () => {
    expect(['discarded', 'transferred', 'released'].map(fillObstacle)).not.toContain(null);
    expect(['in-freezer', 'queued', 'on-the-bench', 'prepared'].map(fillObstacle)).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});
