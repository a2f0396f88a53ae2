import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dueReminder,
  LOAN_ACTS,
  type LoanFacts,
  lendingProblems,
  loanActs,
  loanBalance,
  mayExtend,
  moveLoan,
  overdueDays,
  type Settlement,
  settleLines,
} from '@/lib/loans/rules';
import {
  LINE_OUTCOMES,
  LOAN_STATES,
  type LoanLine,
  type LoanState,
  loanSettingsSchema,
} from '@/lib/loans/schema';

const settings = loanSettingsSchema.parse({});
const line = (lineId: string, change: Partial<LoanLine> = {}): LoanLine => ({
  lineId,
  materialId: `m-${lineId}`,
  sentOn: '2026-01-10',
  outcome: null,
  outcomeOn: null,
  conditionOut: 'sound',
  conditionIn: null,
  ...change,
});
const loan = (change: Partial<LoanFacts> = {}): LoanFacts => ({
  state: 'asked',
  lines: [line('a')],
  askedById: 'ines',
  missingDocuments: [],
  dueOn: '2026-12-31',
  ...change,
});

/** The life of a loan, written out a second time, independently of the table. */
const ALLOWED = [
  'asked take-into-review in-review',
  'asked withdraw closed',
  'in-review grant granted',
  'in-review decline declined',
  'in-review withdraw closed',
  'granted withdraw closed',
  'granted pack packed',
  'packed unpack granted',
  'packed send sent',
  'sent confirm-receipt received',
  'sent take-back partly-back',
  'sent extend sent',
  'received take-back partly-back',
  'received extend received',
  'partly-back take-back partly-back',
  'partly-back extend partly-back',
  'sent close closed',
  'received close closed',
  'partly-back close closed',
];

describe('states of a loan', () => {
  it('allows exactly the steps of the list', () => {
    const settled = [line('a', { outcome: 'returned' })];
    const allowed = LOAN_STATES.flatMap((state) =>
      LOAN_ACTS.flatMap((act) => {
        const move = moveLoan(loan({ state, lines: act === 'close' ? settled : [line('a')] }), act, 'mira');
        return move.ok ? [`${state} ${act} ${move.to}`] : [];
      }),
    );
    expect(allowed.sort()).toEqual([...ALLOWED].sort());
  });

  it.each<[string, Partial<LoanFacts>, (typeof LOAN_ACTS)[number], string]>([
    ['own request granted', { state: 'in-review', askedById: 'mira' }, 'grant', 'own-request'],
    ['own request declined', { state: 'in-review', askedById: 'mira' }, 'decline', 'own-request'],
    ['an empty parcel', { state: 'granted', lines: [] }, 'pack', 'no-lines'],
    ['papers missing', { state: 'packed', missingDocuments: ['CITES label'] }, 'send', 'documents-missing'],
    ['no due date', { state: 'packed', dueOn: null }, 'send', 'no-due-date'],
    ['closed while something is out', { state: 'received' }, 'close', 'still-out'],
    [
      'taken back when nothing is out',
      { state: 'received', lines: [line('a', { outcome: 'lost' })] },
      'take-back',
      'nothing-out',
    ],
  ])('%s is refused', (_name, change, act, code) => {
    expect(moveLoan(loan(change), act, 'mira')).toMatchObject({ ok: false, code });
    expect(loanActs(loan(change), 'mira')).not.toContain(act);
  });
});

describe('a loan on a random walk', () => {
  const step = fc.oneof(
    fc.record({ act: fc.constantFrom(...LOAN_ACTS) }),
    fc.record({ settle: fc.constantFrom('a', 'b', 'c', 'd'), outcome: fc.constantFrom(...LINE_OUTCOMES) }),
  );

  it('takes no forbidden step, keeps its balance and never closes with something out', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('loan' as const, 'grant' as const),
        fc.array(step, { maxLength: 80 }),
        (kind, walk) => {
          let state: LoanState = 'asked';
          let lines = ['a', 'b', 'c'].map((id) => line(id, { sentOn: null }));
          for (const one of walk) {
            const before = loanBalance(lines);
            if ('settle' in one) {
              const settled = settleLines({ state, kind, lines }, [
                { lineId: one.settle, outcome: one.outcome, on: '2026-05-01' },
              ]);
              if (!settled.ok) continue;
              expect(kind === 'grant' || one.outcome !== 'consumed').toBe(true);
              expect(ALLOWED).toContain(
                `${state} ${settled.to === 'closed' ? 'close' : 'take-back'} ${settled.to}`,
              );
              expect(loanBalance(settled.lines).out).toBe(before.out - 1);
              ({ lines } = settled);
              state = settled.to;
            } else {
              const move = moveLoan(loan({ state, lines }), one.act, 'mira');
              if (!move.ok) continue;
              expect(ALLOWED).toContain(`${state} ${one.act} ${move.to}`);
              if (one.act === 'send') lines = lines.map((sent) => ({ ...sent, sentOn: '2026-01-10' }));
              state = move.to;
            }
            const { sent, returned, consumed, lost, out } = loanBalance(lines);
            expect(out).toBe(sent - returned - consumed - lost);
            expect(out).toBeGreaterThanOrEqual(0);
            if (state === 'closed' || state === 'declined') expect(out).toBe(0);
          }
        },
      ),
      { numRuns: 400 },
    );
  });
});

describe('lines that come back', () => {
  const out = {
    state: 'received' as const,
    kind: 'grant' as const,
    lines: ['a', 'b', 'c', 'd'].map((id) => line(id)),
  };
  const say = (lineId: string, outcome: Settlement['outcome'], on = '2026-06-01') => ({
    lineId,
    outcome,
    on,
  });

  it('two partial returns, one loss and one consumed grant end in balance zero', () => {
    const first = settleLines(out, [say('a', 'returned')]);
    if (!first.ok) throw new Error(first.reason);
    expect([first.to, loanBalance(first.lines).out]).toEqual(['partly-back', 3]);
    const second = settleLines({ ...out, state: first.to, lines: first.lines }, [
      say('b', 'returned'),
      say('c', 'lost'),
    ]);
    if (!second.ok) throw new Error(second.reason);
    expect([second.to, loanBalance(second.lines).out]).toEqual(['partly-back', 1]);
    const third = settleLines({ ...out, state: second.to, lines: second.lines }, [say('d', 'consumed')]);
    if (!third.ok) throw new Error(third.reason);
    expect(third.to).toBe('closed');
    expect(loanBalance(third.lines)).toEqual({ sent: 4, returned: 2, consumed: 1, lost: 1, out: 0 });
  });

  it.each<[string, Parameters<typeof settleLines>[0], Settlement[], string]>([
    ['nothing said', out, [], 'nothing-said'],
    ['a line twice', out, [say('a', 'returned'), say('a', 'lost')], 'line-twice'],
    ['a line of another loan', out, [say('z', 'returned')], 'no-such-line'],
    [
      'a line never sent',
      { ...out, lines: [line('a', { sentOn: null })] },
      [say('a', 'returned')],
      'not-sent',
    ],
    [
      'settled already',
      { ...out, lines: [line('a', { outcome: 'lost' })] },
      [say('a', 'returned')],
      'settled',
    ],
    ['back before it was sent', out, [say('a', 'returned', '2026-01-09')], 'before-sent'],
    ['a plain loan consumed', { ...out, kind: 'loan' }, [say('a', 'consumed')], 'not-a-grant'],
    ['a loan that is not out', { ...out, state: 'packed' }, [say('a', 'returned')], 'not-from-here'],
  ])('%s is refused, and nothing of it done', (_name, from, settlements, code) => {
    expect(settleLines(from, settlements)).toMatchObject({ ok: false, code });
  });
});

describe('due dates', () => {
  it.each<[LoanState, string | null, string, number]>([
    ['sent', '2026-03-01', '2026-03-01', 0],
    ['sent', '2026-03-01', '2026-03-02', 1],
    ['partly-back', '2026-02-28', '2026-03-01', 1],
    ['received', '2024-02-28', '2024-03-01', 2],
    ['closed', '2026-03-01', '2026-04-01', 0],
    ['received', null, '2026-04-01', 0],
  ])('%s, due %s: on %s %d days late', (state, dueOn, today, days) => {
    expect(overdueDays({ state, dueOn }, today)).toBe(days);
  });

  const out = { state: 'received' as const, dueOn: '2026-06-30' };
  it.each([
    ['2026-05-01', null],
    ['2026-05-31', { key: '2026-06-30:-30', kind: 'due-soon', days: 30 }],
    ['2026-06-20', { key: '2026-06-30:-14', kind: 'due-soon', days: 10 }],
    ['2026-07-01', { key: '2026-06-30:1', kind: 'overdue', days: 1 }],
    ['2026-12-01', { key: '2026-06-30:90', kind: 'overdue', days: 154 }],
  ])('on %s the reminder is %o', (today, reminder) => {
    expect(dueReminder(out, today, [], settings)).toEqual(reminder);
  });

  it('reminds once a step, and anew after an extension', () => {
    expect(dueReminder(out, '2026-07-05', ['2026-06-30:1'], settings)).toBeNull();
    expect(dueReminder({ ...out, dueOn: '2026-07-04' }, '2026-07-05', ['2026-06-30:1'], settings)?.key).toBe(
      '2026-07-04:1',
    );
    expect(dueReminder({ ...out, state: 'closed' }, '2026-07-05', [], settings)).toBeNull();
  });

  const extension = {
    askedOn: '2026-01-01',
    fromDueOn: '2025-06-30',
    toDueOn: '2026-06-30',
    decidedById: 'mira',
    reason: 'x',
  };
  // Usual terms, a university museum's published loan conditions: asked in writing two weeks before it is due.
  it.each([
    ['two weeks before', '2026-06-16', '2026-12-31', 0, { ok: true, isLate: false, note: null }],
    ['a day too late', '2026-06-17', '2026-12-31', 0, { ok: true, isLate: true }],
    ['to an earlier day', '2026-06-01', '2026-06-30', 0, { ok: false, code: 'not-later' }],
    ['for more than a year', '2026-06-01', '2027-07-01', 0, { ok: false, code: 'too-long' }],
    ['a fourth time', '2026-06-01', '2026-12-31', 3, { ok: false, code: 'too-many' }],
  ])('extended %s', (_name, askedOn, toDueOn, times, expected) => {
    const extensions = Array.from({ length: times }, () => extension);
    expect(mayExtend({ ...out, extensions }, { askedOn, toDueOn }, settings)).toMatchObject(expected);
  });
});

describe('what may be lent', () => {
  const fit = {
    custody: 'on-shelf' as const,
    openLoanNumber: null,
    holds: [],
    isCatalogued: true,
    samplingForbidden: false,
    loanKind: 'loan' as const,
  };
  it.each([
    ['fit', fit, 0],
    ['missing', { ...fit, custody: 'missing' as const }, 1],
    ['promised to another loan', { ...fit, openLoanNumber: 'L-2026-003' }, 1],
    ['on hold, not catalogued', { ...fit, holds: ['evidence'], isCatalogued: false }, 2],
    ['lent whole though sampling is forbidden', { ...fit, samplingForbidden: true }, 0],
    [
      'granted though sampling is forbidden',
      { ...fit, samplingForbidden: true, loanKind: 'grant' as const },
      1,
    ],
  ])('%s: %#', (_name, material, problems) => {
    expect(lendingProblems(material)).toHaveLength(problems);
  });
});
