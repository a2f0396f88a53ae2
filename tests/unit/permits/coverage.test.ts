import { describe, expect, it } from 'vitest';
import { plainFacts } from '@/lib/permits/packs/load';
import { checkCoverage } from '@/lib/permits/rules/coverage';
import { check, holderFacts, makePermit, on, robin, testStatus } from './build';

const stranger = { personId: null, name: null, relation: 'public' } as const;
/** Before 31 December 2024 no general authorisation stands beside the permit. */
const before2025 = '2024-05-01';

describe('coverage: dates', () => {
  it.each([
    ['on the first day', '2023-01-01', 'covered', 'in-force'],
    ['on the last day', '2025-12-31', 'covered', 'in-force'],
    ['the day before the effective date', '2022-12-31', 'not-covered', 'before-effective'],
  ])('found %s', (_name, date, verdict, code) => {
    const result = check(holderFacts(on(date)), [makePermit()], { today: date });
    expect(result.verdict).toBe(verdict);
    expect(result.codes).toContain(code);
  });

  it('edge case, after expiry: the permit fails and another authority valid then is tried', () => {
    const result = check(holderFacts(on('2026-01-01')), [makePermit()], { today: '2026-01-03' });
    expect(result.authority?.id).toBe('us-21.16');
    expect(result.others.find((other) => other.authority.id === 'permit-1')?.reasons).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ code: 'after-expiry', outcome: 'fail', hold: 'quarantine' }),
      ]),
    );
  });

  it('edge case, before the effective date: a later accession never cures it', () => {
    const facts = holderFacts({ ...on('2022-12-31'), receivedOn: '2023-05-01' });
    expect(check(facts).verdict).toBe('not-covered');
  });

  it.each([
    ['2024-01-20', 'covered'],
    [null, 'needs-attention'],
  ])('in the grace between renewals, renewal asked for on %s', (renewalAppliedOn, verdict) => {
    const permit = makePermit({
      expiresOn: '2024-03-31',
      clauses: [{ id: 'grace', kind: 'grace', until: '2024-06-30', renewalAppliedOn }],
    });
    const result = check(holderFacts(on(before2025)), [permit]);
    expect(result.verdict).toBe(verdict);
    expect(result.codes).toContain('in-grace');
  });

  it('in a gap between two permits without grace: not covered', () => {
    const permits = [
      makePermit({ expiresOn: '2024-03-31' }),
      makePermit({ id: 'permit-2', number: 'SB-1002', effectiveOn: '2024-07-01' }),
    ];
    expect(check(holderFacts(on(before2025)), permits).verdict).toBe('not-covered');
  });

  it.each([
    ['wholly inside', '2023-01-01', '2023-01-09', 'covered'],
    ['straddling the effective date', '2022-12-30', '2023-01-02', 'needs-attention'],
    ['straddling the expiry', '2025-12-31', '2026-01-01', 'needs-attention'],
  ])('edge case, date only a range: %s', (_name, foundEarliestOn, foundLatestOn, verdict) => {
    const facts = holderFacts({
      foundEarliestOn,
      foundLatestOn,
      receivedOn: foundLatestOn,
      activeSearch: true,
    });
    expect(check(facts, [makePermit()], { today: foundLatestOn }).verdict).toBe(verdict);
  });

  it('an amendment judges later birds only, and a range across it meets both texts', () => {
    const permit = makePermit({
      clauses: [{ id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'family', name: 'Laridae' }] }],
      amendments: [
        {
          effectiveOn: '2024-06-01',
          reason: 'all birds',
          clauses: [{ id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] }],
        },
      ],
    });
    expect(check(holderFacts(on('2024-05-31')), [permit]).verdict).toBe('not-covered');
    expect(check(holderFacts(on('2024-06-01')), [permit]).verdict).toBe('covered');
    const across = holderFacts({
      foundEarliestOn: '2024-05-31',
      foundLatestOn: '2024-06-01',
      receivedOn: null,
    });
    expect(check(across, [permit]).verdict).toBe('not-covered');
  });
});

describe('coverage: who found it', () => {
  it('edge case, unauthorised finder: from 31 December 2024 the general authorisation is tried first', () => {
    const result = check(holderFacts({ ...on('2024-12-31'), finder: stranger }));
    expect(result).toMatchObject({
      verdict: 'covered',
      authority: { kind: 'general-authorisation', id: 'us-21.16' },
    });
    expect(result.reasons.some((reason) => reason.cite === '50 CFR 21.16(b)')).toBe(true);
  });

  it('edge case, unauthorised finder: before that the officer decides', () => {
    const result = check(holderFacts({ ...on('2024-12-30'), finder: stranger }));
    expect(result).toMatchObject({ verdict: 'needs-attention', authority: { id: 'permit-1' } });
    expect(result.codes).toContain('finder-needs-ruling');
  });

  it.each([
    ['on the list', on('2024-06-30'), 'covered'],
    ['after leaving the list', on('2024-07-01'), 'needs-attention'],
    [
      'in a range across the last day',
      { foundEarliestOn: '2024-06-29', foundLatestOn: '2024-07-01', receivedOn: '2024-07-01' },
      'needs-attention',
    ],
  ])('edge case, salvager left the list: a sub-permittee %s on that date', (_name, dates, verdict) => {
    const finder = { personId: 'p-sam', name: 'Sam Sub', relation: 'public' } as const;
    expect(check(holderFacts({ ...dates, finder })).verdict).toBe(verdict);
  });

  it('people under direct control may act unless the permit says otherwise', () => {
    const finder = { personId: 'p-vera', name: 'Vera', relation: 'under-direct-control' } as const;
    const facts = holderFacts({ ...on(before2025), finder });
    expect(check(facts).verdict).toBe('covered');
    const strict = makePermit({ clauses: [{ id: 'who', kind: 'who-may-act', who: ['holder'] }] });
    expect(check(facts, [strict]).codes).toContain('finder-needs-ruling');
  });

  it('a systematic search needs a permit', () => {
    const facts = holderFacts({ activeSearch: true, finder: stranger });
    expect(check(facts, []).codes).toContain('active-search');
    expect(check(facts, []).verdict).toBe('not-covered');
    expect(check(holderFacts({ activeSearch: true })).authority?.id).toBe('permit-1');
  });
});

describe('coverage: where it was found', () => {
  it('edge case, found out of state: the place of finding is tested, and the bird is quarantined', () => {
    const permit = makePermit({ jurisdiction: 'US-IL' });
    const facts = holderFacts({
      ...on(before2025),
      place: { country: 'US', subdivision: 'US-WI', county: 'Dane' },
    });
    const result = check(facts, [permit]);
    expect(result.verdict).toBe('not-covered');
    expect(result.reasons).toContainEqual(
      expect.objectContaining({ code: 'out-of-place', hold: 'quarantine' }),
    );
  });

  it('counties of a clause are tested, an unknown county asks', () => {
    const places = [{ within: 'US-IL', counties: ['Lake'] }];
    const permit = makePermit({ clauses: [{ id: 'places', kind: 'places', places }] });
    const at = (county: string | null) =>
      check(holderFacts({ ...on(before2025), place: { country: 'US', subdivision: 'US-IL', county } }), [
        permit,
      ]);
    expect(at('lake').verdict).toBe('covered');
    expect(at('Cook').verdict).toBe('not-covered');
    expect(at(null).verdict).toBe('needs-attention');
  });

  it('a country without a rule pack asks', () => {
    const facts = holderFacts({ place: { country: 'CA', subdivision: 'CA-ON', county: null } });
    expect(check(facts, [makePermit({ jurisdiction: 'CA-ON' })]).codes).toContain('no-rule-pack');
  });
});

describe('coverage: holds and who must be told', () => {
  it('edge case, evidence hold: a suspected illegal kill waits for a written release', () => {
    const result = check(holderFacts({ suspectedIllegalKill: true }));
    expect(result).toMatchObject({ verdict: 'needs-attention', holds: ['evidence'] });
    expect(result.whoMustBeTold).toEqual(['wildlife law enforcement']);
    const released = { suspectedIllegalKill: true, writtenReleaseReference: 'case 25-77' };
    expect(check(holderFacts(released)).verdict).toBe('covered');
  });

  it('edge case, five or more at one place and day: event hold; four are not', () => {
    expect(check(holderFacts({ groupSize: 4 })).verdict).toBe('covered');
    const five = check(holderFacts({ groupSize: 5 }));
    expect(five).toMatchObject({ verdict: 'needs-attention', holds: ['event'] });
    const told = {
      groupSize: 5,
      lawEnforcementToldOn: '2025-05-01',
      instructionReference: 'officer 12: go on',
    };
    expect(check(holderFacts(told)).verdict).toBe('covered');
  });

  it('signs of disease hold the bird, with or without a rule pack', () => {
    expect(check(holderFacts({ diseaseSigns: true })).holds).toContain('disease');
    const context = { today: '2025-06-01', counted: [], overdueReports: [], confirmedRuleIds: [] };
    expect(checkCoverage(plainFacts({ diseaseSigns: true }), [], [], testStatus, context).holds).toContain(
      'disease',
    );
  });

  it('an overdue report flags new use of that authority only', () => {
    const overdueReports = [{ authorityId: 'permit-1', dueOn: '2024-01-31' }];
    const result = check(holderFacts(on(before2025)), [makePermit()], { overdueReports });
    expect(result.verdict).toBe('needs-attention');
    expect(result.reasons).toContainEqual(
      expect.objectContaining({ code: 'report-overdue', cite: '50 CFR 21.5(d)' }),
    );
    expect(check(holderFacts(), [makePermit()], { overdueReports }).authority?.id).toBe('us-21.16');
  });
});

describe('coverage: several authorities and quotas', () => {
  it('edge case, two authorities: one bird claimed under two permits needs one primary', () => {
    const permits = [
      makePermit(),
      makePermit({ id: 'permit-2', number: 'ST-5', kind: 'state', jurisdiction: 'US-IL' }),
    ];
    const claims = (second: 'primary' | 'also-required') => [
      { authorityId: 'permit-1', role: 'primary' as const },
      { authorityId: 'permit-2', role: second },
    ];
    expect(check(holderFacts({ claims: claims('primary') }), permits).codes).toContain('claimed-twice');
    const settled = check(holderFacts({ claims: claims('also-required') }), permits);
    expect(settled).toMatchObject({ verdict: 'covered', authority: { id: 'permit-1' } });
  });

  it('an also-required authority that does not cover asks', () => {
    const state = makePermit({ id: 'permit-2', kind: 'state', jurisdiction: 'US-WI' });
    const claims = [{ authorityId: 'permit-2', role: 'also-required' as const }];
    expect(check(holderFacts({ claims }), [makePermit(), state]).codes).toContain('also-required');
  });

  it('among authorities that cover, the one it is claimed under counts it', () => {
    const claims = [{ authorityId: 'us-21.16', role: 'primary' as const }];
    expect(check(holderFacts({ claims })).authority?.id).toBe('us-21.16');
    expect(check(holderFacts()).authority?.id).toBe('permit-1');
  });

  const quota = {
    id: 'ten',
    kind: 'quota',
    taxa: [{ by: 'family', name: 'Turdidae' }],
    maximum: 2,
    year: { basis: 'calendar' },
  };
  const take = (foundOn: string) => ({ authorityId: 'permit-1', taxon: robin, foundOn, quantity: 1 });

  it('the last of a quota passes, the next exceeds it, another year starts anew', () => {
    const permit = makePermit({ clauses: [quota] });
    const facts = holderFacts(on(before2025));
    expect(check(facts, [permit], { counted: [take('2024-02-01')] }).verdict).toBe('covered');
    const full = [take('2024-02-01'), take('2024-12-31')];
    const result = check(facts, [permit], { counted: full });
    expect(result.verdict).toBe('not-covered');
    expect(result.codes).toContain('quota-exceeded');
    expect(check(facts, [permit], { counted: [take('2023-02-01'), take('2025-12-31')] }).verdict).toBe(
      'covered',
    );
  });

  it('a range across two years asks when one of them is full', () => {
    const permit = makePermit({ clauses: [quota] });
    const facts = holderFacts({
      foundEarliestOn: '2023-12-30',
      foundLatestOn: '2024-01-02',
      receivedOn: null,
    });
    const counted = [take('2024-02-01'), take('2024-03-01')];
    expect(check(facts, [permit], { counted }).codes).toContain('quota-perhaps-exceeded');
  });
});

it('every answer ends with the caution, and every fail or attention says something', () => {
  const result = check(holderFacts({ suspectedIllegalKill: true, groupSize: 9, tag: [] }));
  expect(result.caution).toMatch(/local rules decide/);
  for (const reason of result.reasons) expect(reason.message.length).toBeGreaterThan(10);
});
