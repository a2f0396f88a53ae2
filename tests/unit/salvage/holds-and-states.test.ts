import { describe, expect, it } from 'vitest';
import { holdKinds } from '@/lib/permits/schema';
import { findCustodyGaps } from '@/lib/salvage/rules/custody';
import { canLiftHold, holdRules, sortHolds, stoppedByHolds } from '@/lib/salvage/rules/holds';
import { canMoveSalvage, salvageTransitions } from '@/lib/salvage/rules/transitions';
import { reportFindRequest, salvageStates } from '@/lib/salvage/schema';

describe('the states of a salvage record', () => {
  it('the whole table', () => {
    const allowed = salvageStates.flatMap((from) =>
      salvageStates.filter((to) => canMoveSalvage(from, to)).map((to) => `${from} → ${to}`),
    );
    expect(allowed).toEqual([
      'reported → in-triage',
      'in-triage → accepted',
      'in-triage → declined',
      'in-triage → on-hold',
      'accepted → on-hold',
      'declined → in-triage',
      'on-hold → in-triage',
      'on-hold → declined',
    ]);
  });

  it('every state can be reached from the first', () => {
    const reached = new Set<string>(['reported']);
    for (let round = 0; round < salvageStates.length; round += 1) {
      for (const state of salvageStates) {
        if (reached.has(state)) for (const next of salvageTransitions[state]) reached.add(next);
      }
    }
    expect([...reached].sort()).toEqual([...salvageStates].sort());
  });
});

describe('holds', () => {
  it.each([
    ['evidence', ['permit-officer'], 'case 7', true],
    ['evidence', ['permit-officer'], null, false],
    ['evidence', ['curator'], 'case 7', false],
    ['legal', ['preparator', 'curator'], 'ruling 1', false],
    ['event', ['permit-officer'], null, false],
    ['quarantine', ['permit-officer'], null, true],
    ['disease', ['curator'], null, true],
    ['disease', ['volunteer'], null, false],
    ['missing-data', ['registrar'], null, true],
    ['identification', ['preparator'], null, true],
  ] as const)('%s lifted by %j with document %s: %s', (kind, roles, document, allowed) => {
    const answer = canLiftHold(kind, roles, document);
    expect(answer.allowed).toBe(allowed);
    expect(answer.reason.length).toBeGreaterThan(5);
  });

  it('an evidence hold stops preparation, tissue and disposal', () => {
    const stopped = stoppedByHolds(['evidence']);
    for (const act of ['preparation', 'tissue', 'disposal'] as const) expect(stopped.has(act)).toBe(true);
    expect(stoppedByHolds(['missing-data']).has('preparation')).toBe(false);
    expect(stoppedByHolds([]).size).toBe(0);
  });

  it('every kind has a rule that somebody can lift and that says what to do', () => {
    for (const kind of holdKinds) {
      expect(holdRules[kind].kind).toBe(kind);
      expect(holdRules[kind].liftedBy.length).toBeGreaterThan(0);
      expect(holdRules[kind].whatToDo).toMatch(/\.$/);
    }
  });

  it('the gravest comes first, each once', () => {
    expect(sortHolds(['missing-data', 'legal', 'evidence', 'legal'])).toEqual([
      'evidence',
      'legal',
      'missing-data',
    ]);
  });
});

describe('custody from hand to hand', () => {
  const step = (fromName: string, toName: string, on: string) => ({ fromName, toName, on, note: '' });

  it('an unbroken chain has no gap', () => {
    const chain = [step('Ada', 'Desk', '2025-05-01'), step('Desk', 'Freezer', '2025-05-02')];
    expect(findCustodyGaps('Ada', chain)).toEqual([]);
    expect(findCustodyGaps(null, chain)).toEqual([]);
  });

  it('a missing hand and a step back in time are named', () => {
    const gaps = findCustodyGaps('Ada', [
      step('Bob', 'Desk', '2025-05-02'),
      step('Desk', 'Freezer', '2025-05-01'),
    ]);
    expect(gaps).toEqual([
      '2025-05-02: handed over by Bob, but Ada had it',
      '2025-05-01: dated before the step of 2025-05-02',
    ]);
  });
});

describe('bad input about a find', () => {
  const good = {
    requestKey: '7b0d5d0e-58a5-4c4a-9d0e-0f5f6f6f6f6f',
    found: { earliestOn: '2025-05-01', latestOn: '2025-05-01', verbatim: '2025-05-01' },
    place: { country: 'US', stateProvince: 'Illinois', county: 'Cook', locality: 'glass tower' },
    verbatimTaxon: 'robin',
    finder: { name: 'Ada Finder' },
  };
  it.each([
    ['an impossible date', { found: { ...good.found, latestOn: '2025-02-30' } }],
    ['a range that ends before it begins', { found: { ...good.found, latestOn: '2025-04-01' } }],
    ['latitude 95', { place: { ...good.place, latitude: 95, longitude: 0 } }],
    ['half a coordinate', { place: { ...good.place, latitude: 41.9 } }],
    ['uncertainty 0', { place: { ...good.place, uncertaintyM: 0 } }],
    ['no birds', { quantity: 0 }],
    ['no request key', { requestKey: 'again' }],
  ])('%s is refused', (_name, changes) => {
    expect(reportFindRequest.safeParse(good).success).toBe(true);
    expect(reportFindRequest.safeParse({ ...good, ...changes }).success).toBe(false);
  });
});
