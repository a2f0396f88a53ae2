import { describe, expect, it } from 'vitest';
import type { TaxonFact } from '@/lib/permits/coverage-schema';
import { plainFacts, shippedRulePacks } from '@/lib/permits/packs/load';
import { checkCoverage } from '@/lib/permits/rules/coverage';
import { createProtectedStatus } from '@/lib/permits/rules/status';
import {
  baldEagle,
  check,
  herringGull,
  holderFacts,
  makeList,
  makePermit,
  on,
  robin,
  species,
  warbler,
} from './build';

const stranger = { personId: null, name: null, relation: 'public' } as const;
/** Before 31 December 2024 no general authorisation stands beside the permit. */
const before2025 = '2024-05-01';

const gullSp = { ...herringGull, name: 'Larus', rank: 'genus', genus: 'Larus' } as const;
const birdSp: TaxonFact = {
  name: 'Aves',
  rank: 'class',
  genus: null,
  family: null,
  order: null,
  synonyms: [],
  mayBe: [],
};

describe('coverage: what it is', () => {
  it('edge case, unknown species: a gull is assumed protected and covered by a permit for all', () => {
    const result = check(holderFacts({ ...on(before2025), taxon: gullSp }));
    expect(result).toMatchObject({ verdict: 'covered', status: 'assumed-protected' });
  });

  it('a gull of unknown species may or may not be on a permit for one gull', () => {
    const taxa = [{ by: 'name', name: 'Larus argentatus' }];
    const permit = makePermit({ clauses: [{ id: 'taxa', kind: 'taxa-allowed', taxa }] });
    const result = check(holderFacts({ ...on(before2025), taxon: gullSp }), [permit]);
    expect(result.verdict).toBe('needs-attention');
    expect(result.holds).toContain('identification');
  });

  it('edge case, unknown species: a bird that may be an eagle or listed is held', () => {
    const result = check(holderFacts({ ...on(before2025), taxon: birdSp }));
    expect(result.verdict).toBe('needs-attention');
    expect(result.holds).toEqual(expect.arrayContaining(['contact-first', 'legal']));
    const narrowed = { ...birdSp, mayBe: ['Turdus migratorius', 'Larus argentatus'] };
    expect(check(holderFacts({ ...on(before2025), taxon: narrowed })).verdict).toBe('covered');
  });

  it('edge case, name absent from the list: unresolved, never unprotected', () => {
    const result = check(holderFacts({ taxon: species('Corvus caurinus', 'Corvidae') }));
    expect(result).toMatchObject({ verdict: 'needs-attention', status: 'unresolved' });
    expect(result.codes).toContain('name-unresolved');
  });

  it('an excluded taxon fails on the permit', () => {
    const clauses = [
      { id: 'not', kind: 'taxa-excluded', taxa: [{ by: 'family', name: 'Turdidae' }], text: 'No thrushes.' },
    ];
    const result = check(holderFacts(on(before2025)), [makePermit({ clauses })]);
    expect(result.verdict).toBe('not-covered');
    expect(result.reasons).toContainEqual(
      expect.objectContaining({ code: 'taxon-excluded', clauseId: 'not', cite: 'No thrushes.' }),
    );
  });

  it('an endangered bird stops hard unless a permit names it', () => {
    const facts = holderFacts({ taxon: warbler });
    const stopped = check(facts);
    expect(stopped.verdict).toBe('not-covered');
    expect(stopped.reasons).toContainEqual(
      expect.objectContaining({ code: 'listed', hold: 'legal', cite: '50 CFR 21.16(b)(2), 17.11(h)' }),
    );
    const special = {
      id: 'listed',
      kind: 'special-authorisation',
      taxa: [{ by: 'name', name: warbler.name }],
    };
    expect(check(facts, [makePermit({ clauses: [special] })]).verdict).toBe('covered');
  });

  it('an eagle waits for the national repository: contact, then document', () => {
    const facts = (changes: object) => holderFacts({ taxon: baldEagle, ...changes });
    const first = check(facts({}));
    expect(first.verdict).toBe('not-covered');
    expect(first.whoMustBeTold).toContain('the national eagle repository');
    expect(check(facts({ contactedOn: '2025-05-01' })).verdict).toBe('needs-attention');
    expect(check(facts({ contactedOn: '2025-05-01', contactDocument: 'letter 25-9' })).verdict).toBe(
      'covered',
    );
    const nest = {
      specimenType: 'nest',
      nestInactive: true,
      contactedOn: '2025-05-01',
      contactDocument: 'x',
    };
    expect(check(facts(nest)).codes).toContain('eagle-nest-or-egg');
  });

  it('other contact-first taxa of a permit ask until the call is recorded', () => {
    const taxa = [{ by: 'family', name: 'Turdidae' }];
    const clauses = [{ id: 'call', kind: 'contact-first', taxa, contact: 'the regional office' }];
    const permit = makePermit({ clauses });
    const result = check(holderFacts(on(before2025)), [permit]);
    expect(result).toMatchObject({ verdict: 'needs-attention', whoMustBeTold: ['the regional office'] });
    expect(check(holderFacts({ ...on(before2025), contactedOn: before2025 }), [permit]).verdict).toBe(
      'covered',
    );
  });

  it('an introduced bird needs no federal permit; a recalled exception waits for an officer', () => {
    const sparrow = check(
      holderFacts({ finder: stranger, taxon: species('Passer domesticus', 'Passeridae') }),
    );
    expect(sparrow).toMatchObject({
      verdict: 'covered',
      authority: { kind: 'not-required' },
      status: 'unprotected',
    });
    const pigeon = {
      ...on(before2025),
      finder: stranger,
      taxon: species('Columba livia', 'Columbidae', 'Columbiformes'),
    };
    const recalled = check(holderFacts(pigeon), []);
    expect(recalled.verdict).toBe('needs-attention');
    expect(recalled.reasons).toContainEqual(expect.objectContaining({ unverified: true }));
    const confirmed = check(holderFacts(pigeon), [], { confirmedRuleIds: ['us-unlisted-pigeon'] });
    expect(confirmed.verdict).toBe('covered');
  });

  it('a missing list of endangered birds is said, not passed over', () => {
    const status = createProtectedStatus([makeList('us-10.13', 'protects', [robin])]);
    const context = { today: '2025-06-01', counted: [], overdueReports: [], confirmedRuleIds: [] };
    const result = checkCoverage(plainFacts(), [], shippedRulePacks(), status, context);
    expect(result.verdict).toBe('needs-attention');
    expect(result.reasons).toContainEqual(
      expect.objectContaining({ code: 'listed', message: expect.stringMatching(/^Cannot be told/) }),
    );
  });
});

describe('coverage: parts, nests, eggs, bands, tags', () => {
  it.each([
    ['feathers', {}, 'covered', 'in-force'],
    ['part', {}, 'covered', 'in-force'],
    ['nest', { nestInactive: true }, 'covered', 'in-force'],
    ['nest', { nestInactive: false }, 'not-covered', 'nest-in-use'],
    ['nest', { nestInactive: null }, 'needs-attention', 'nest-in-use'],
    ['egg', { eggNonviable: true, breedingSeason: false }, 'covered', 'in-force'],
    ['egg', { eggNonviable: false, breedingSeason: false }, 'not-covered', 'egg-viable'],
    ['egg', { eggNonviable: true, breedingSeason: true, finderTrained: true }, 'covered', 'in-force'],
    [
      'egg',
      { eggNonviable: true, breedingSeason: true, finderTrained: false },
      'not-covered',
      'egg-untrained',
    ],
    [
      'egg',
      { eggNonviable: true, breedingSeason: true, finderTrained: null },
      'needs-attention',
      'egg-untrained',
    ],
  ] as const)('edge case, parts, nests, eggs: %s with %j: %s', (specimenType, changes, verdict, code) => {
    const result = check(plainFacts({ specimenType, ...changes }), []);
    expect(result.verdict).toBe(verdict);
    expect(result.codes).toContain(code);
  });

  it('a permit that lists specimen types allows no other', () => {
    const clauses = [{ id: 'types', kind: 'specimen-types', types: ['whole-bird'] }];
    const facts = holderFacts({ ...on(before2025), specimenType: 'part' });
    expect(check(facts, [makePermit({ clauses })]).codes).toContain('specimen-type-not-allowed');
    expect(check(holderFacts({ ...on(before2025), specimenType: 'nest' })).codes).toContain(
      'specimen-type-unsaid',
    );
  });

  it('a federal band must be reported first', () => {
    const banded = check(holderFacts({ bandNumber: '1234-56789', bandIsFederal: true }));
    expect(banded.verdict).toBe('needs-attention');
    expect(banded.whoMustBeTold).toContain('the Bird Banding Laboratory');
    const band = { bandNumber: '1234-56789', bandIsFederal: true, bandReportedOn: '2025-05-02' };
    expect(check(holderFacts(band)).verdict).toBe('covered');
    expect(check(holderFacts({ bandNumber: 'X', bandIsFederal: false })).verdict).toBe('covered');
  });

  it.each([
    ['2025-05-08', 'covered'],
    ['2025-05-09', 'needs-attention'],
  ])('donated on %s after a find on 1 May (7 calendar days)', (receivedOn, verdict) => {
    expect(check(plainFacts({ receivedOn }), []).verdict).toBe(verdict);
  });

  it('with a range of days the seven days must hold for all of them', () => {
    const facts = plainFacts({
      foundEarliestOn: '2025-05-01',
      foundLatestOn: '2025-05-03',
      receivedOn: '2025-05-09',
    });
    expect(check(facts, []).codes).toContain('late-donation');
  });

  it('an incomplete tag is pointed out', () => {
    expect(check(plainFacts({ tag: ['species', 'date'] }), []).codes).toContain('tag-incomplete');
  });

  it('personal use or sale, and a live bird, are never covered', () => {
    expect(check(plainFacts({ personalUseOrSale: true }), []).verdict).toBe('not-covered');
    expect(check(plainFacts({ alive: true }), []).codes).toContain('live-bird');
    expect(check(holderFacts({ alive: true })).verdict).toBe('not-covered');
  });
});
