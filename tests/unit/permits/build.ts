import type { CoverageContext, CoverageFacts, TaxonFact, TaxonList } from '@/lib/permits/coverage-schema';
import { plainFacts, shippedRulePacks } from '@/lib/permits/packs/load';
import { type Permit, permit } from '@/lib/permits/permit-schema';
import { checkCoverage } from '@/lib/permits/rules/coverage';
import { createProtectedStatus } from '@/lib/permits/rules/status';

export function species(name: string, family: string, order = 'Passeriformes'): TaxonFact {
  return { name, rank: 'species', genus: name.split(' ')[0] ?? null, family, order, synonyms: [], mayBe: [] };
}

export const robin = species('Turdus migratorius', 'Turdidae');
export const baldEagle = species('Haliaeetus leucocephalus', 'Accipitridae', 'Accipitriformes');
export const herringGull = species('Larus argentatus', 'Laridae', 'Charadriiformes');
export const warbler = species('Setophaga kirtlandii', 'Parulidae');

export function makeList(listId: string, effect: TaxonList['effect'], names: TaxonFact[]): TaxonList {
  return {
    listId,
    title: listId,
    jurisdiction: 'US',
    effect,
    source: 'written for this test',
    edition: 'test',
    editionOn: '2020-01-01',
    entries: names.map(({ name, family, order }) => ({
      name,
      englishName: null,
      acceptedName: null,
      match: 'exact-name',
      family,
      order,
    })),
  };
}

export const testStatus = createProtectedStatus([
  makeList('us-10.13', 'protects', [robin, baldEagle, herringGull, warbler]),
  makeList('us-17.11', 'flags', [warbler]),
]);

export function makePermit(changes: Record<string, unknown> = {}): Permit {
  return permit.parse({
    id: 'permit-1',
    number: 'SB-1001',
    authority: 'Federal office',
    kind: 'salvage',
    jurisdiction: 'US',
    effectiveOn: '2023-01-01',
    expiresOn: '2025-12-31',
    holder: { personId: 'p-holder', name: 'Holly Holder' },
    subPermittees: [{ personId: 'p-sam', name: 'Sam Sub', fromOn: '2023-01-01', untilOn: '2024-06-30' }],
    clauses: [{ id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] }],
    ...changes,
  });
}

/** Found by the holder of the permit in Cook County. */
export function holderFacts(changes: Partial<CoverageFacts> = {}): CoverageFacts {
  return plainFacts({
    place: { country: 'US', subdivision: 'US-IL', county: 'Cook' },
    finder: { personId: 'p-holder', name: 'Holly Holder', relation: 'public' },
    ...changes,
  });
}

export const on = (date: string) => ({ foundEarliestOn: date, foundLatestOn: date, receivedOn: date });

const packs = shippedRulePacks();

/** Check with the shipped pack and the test lists. */
export function check(
  facts: CoverageFacts,
  permits: Permit[] = [makePermit()],
  context: Partial<CoverageContext> = {},
) {
  const result = checkCoverage(facts, permits, packs, testStatus, {
    today: '2025-06-01',
    counted: [],
    overdueReports: [],
    confirmedRuleIds: [],
    ...context,
  });
  return { ...result, codes: result.reasons.map((reason) => reason.code) };
}
