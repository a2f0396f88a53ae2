import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CoverageFacts } from '@/lib/permits/coverage-schema';
import type { Permit, PermitClause, TaxonSelector } from '@/lib/permits/permit-schema';
import { addDays } from '@/lib/permits/rules/dates';
import { baldEagle, check, herringGull, holderFacts, makePermit, robin, species, warbler } from './build';

const someTaxa = [
  robin,
  herringGull,
  baldEagle,
  warbler,
  species('Passer domesticus', 'Passeridae'),
  species('Corvus caurinus', 'Corvidae'),
  { ...herringGull, name: 'Larus', rank: 'genus' as const },
];

const day = fc.integer({ min: 0, max: 1400 }).map((offset) => addDays('2022-10-01', offset));
const selector: fc.Arbitrary<TaxonSelector> = fc.constantFrom(
  { by: 'all' as const },
  { by: 'family' as const, name: 'Turdidae' },
  { by: 'family' as const, name: 'Laridae' },
  { by: 'name' as const, name: 'Larus argentatus', family: 'Laridae' },
  { by: 'list' as const, listId: 'us-17.11' },
);
const selectors = fc.array(selector, { minLength: 1, maxLength: 2 });
const county = fc.constantFrom('Cook', 'Lake');

const clause: fc.Arbitrary<PermitClause> = fc.oneof(
  fc.record({
    kind: fc.constant('taxa-allowed' as const),
    taxa: selectors,
    id: fc.constant('a'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('taxa-excluded' as const),
    taxa: selectors,
    id: fc.constant('b'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('contact-first' as const),
    taxa: selectors,
    contact: fc.constant('the office'),
    id: fc.constant('c'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('special-authorisation' as const),
    taxa: selectors,
    id: fc.constant('d'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('places' as const),
    places: fc.array(county, { minLength: 1 }).map((counties) => [{ within: 'US-IL', counties }]),
    id: fc.constant('e'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('quota' as const),
    taxa: selectors,
    maximum: fc.integer({ min: 0, max: 3 }),
    year: fc.constant({ basis: 'calendar' as const }),
    id: fc.constant('f'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('who-may-act' as const),
    who: fc.constantFrom<('holder' | 'sub-permittees')[]>(['holder'], ['sub-permittees']),
    id: fc.constant('g'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('transfer-within-days' as const),
    days: fc.integer({ min: 1, max: 40 }),
    after: fc.constant('found' as const),
    id: fc.constant('h'),
    text: fc.constant(''),
  }),
  fc.record({
    kind: fc.constant('tagging' as const),
    fields: fc.constant<('date' | 'place')[]>(['date']),
    id: fc.constant('i'),
    text: fc.constant(''),
  }),
);

const permits: fc.Arbitrary<Permit> = fc
  .record({
    start: day,
    length: fc.integer({ min: 0, max: 900 }),
    clauses: fc.array(clause, { maxLength: 5 }),
    stay: fc.nat(400),
  })
  .map(({ start, length, clauses, stay }) =>
    makePermit({
      effectiveOn: start,
      expiresOn: addDays(start, length),
      clauses: clauses.map((entry, index) => ({ ...entry, id: `c${index}` })),
      subPermittees: [{ personId: 'p-sam', name: 'Sam', fromOn: start, untilOn: addDays(start, stay) }],
    }),
  );

const facts: fc.Arbitrary<CoverageFacts> = fc
  .record({
    found: day,
    spread: fc.integer({ min: 0, max: 20 }),
    wait: fc.integer({ min: 0, max: 12 }),
    taxon: fc.constantFrom(...someTaxa),
    county: fc.constantFrom('Cook', 'Lake', null),
    person: fc.constantFrom('p-holder', 'p-sam', null),
    tagged: fc.boolean(),
    activeSearch: fc.boolean(),
    contactedOn: fc.constantFrom('2024-01-01', null),
  })
  .map((entry) => ({
    ...holderFacts(),
    foundEarliestOn: entry.found,
    foundLatestOn: addDays(entry.found, entry.spread),
    receivedOn: addDays(entry.found, entry.spread + entry.wait),
    taxon: entry.taxon,
    place: { country: 'US', subdivision: 'US-IL', county: entry.county },
    finder: { personId: entry.person, name: null, relation: 'public' as const },
    tag: entry.tagged ? ['date' as const] : [],
    activeSearch: entry.activeSearch,
    contactedOn: entry.contactedOn,
    contactDocument: entry.contactedOn ? 'letter' : null,
  }));

/** Every way to let a permit allow more, one clause or field at a time. */
function widenClause(clause: PermitClause, amount: number): PermitClause[] {
  switch (clause.kind) {
    case 'taxa-allowed':
      return amount % 2 ? [{ ...clause, taxa: [{ by: 'all' }] }] : [];
    case 'special-authorisation':
      return [{ ...clause, taxa: [...clause.taxa, { by: 'name', name: 'Setophaga kirtlandii' }] }];
    case 'places':
      return amount % 2 ? [{ ...clause, places: [...clause.places, { within: 'US' }] }] : [];
    case 'quota':
      return amount % 2 ? [{ ...clause, maximum: clause.maximum + amount }] : [];
    case 'who-may-act':
      return [
        { ...clause, who: ['holder', 'sub-permittees', amount % 2 ? 'anyone' : 'under-direct-control'] },
      ];
    case 'transfer-within-days':
      return amount % 2 ? [{ ...clause, days: clause.days + amount }] : [];
    default:
      return amount % 2 ? [clause] : [];
  }
}

function widen(permit: Permit, amount: number, which: number): Permit {
  const steps: (() => Permit)[] = [
    () => ({ ...permit, effectiveOn: addDays(permit.effectiveOn, -amount) }),
    () => ({
      ...permit,
      expiresOn: permit.expiresOn && amount % 2 ? addDays(permit.expiresOn, amount) : null,
    }),
    () => ({
      ...permit,
      subPermittees: permit.subPermittees.map((person) => ({
        ...person,
        fromOn: addDays(person.fromOn, -amount),
        untilOn: null,
      })),
    }),
    ...permit.clauses.map((clause) => () => ({
      ...permit,
      clauses: permit.clauses.flatMap((entry) => (entry === clause ? widenClause(clause, amount) : [entry])),
    })),
  ];
  return (steps[which % steps.length] ?? (() => permit))();
}

const order = { covered: 0, 'needs-attention': 1, 'not-covered': 2 } as const;

describe('widening a permit', { timeout: 60_000 }, () => {
  const counted = [0, 1].map(() => ({
    authorityId: 'permit-1',
    taxon: robin,
    foundOn: '2024-03-01',
    quantity: 1,
  }));

  it('never makes a covered bird uncovered, nor any verdict worse', () => {
    let covered = 0;
    fc.assert(
      fc.property(
        permits,
        facts,
        fc.integer({ min: 1, max: 60 }),
        fc.nat(20),
        (permit, bird, amount, which) => {
          const before = check(bird, [permit], { counted, today: '2025-06-01' });
          const after = check(bird, [widen(permit, amount, which)], { counted, today: '2025-06-01' });
          if (before.authority?.kind === 'permit' && before.verdict === 'covered') covered += 1;
          expect(order[after.verdict]).toBeLessThanOrEqual(order[before.verdict]);
        },
      ),
      { numRuns: 1500, seed: 7 },
    );
    // The property would be empty if the permit itself never covered anything.
    expect(covered).toBeGreaterThan(10);
  });

  it('a second permit never makes a verdict worse either', () => {
    fc.assert(
      fc.property(permits, permits, facts, (first, second, bird) => {
        const one = check(bird, [first], { counted });
        const both = check(bird, [first, { ...second, id: 'permit-2' }], { counted });
        expect(order[both.verdict]).toBeLessThanOrEqual(order[one.verdict]);
      }),
      { numRuns: 500, seed: 8 },
    );
  });
});
