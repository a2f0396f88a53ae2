import { type CoverageFacts, coverageFacts, type TaxonList } from '../coverage-schema';
import { type RulePack, rulePack } from '../pack-schema';
import { checkCoverage } from '../rules/coverage';
import { createProtectedStatus } from '../rules/status';
import usFederal from './us-federal.json';

/** A pack that cannot be used, with one plain sentence for each thing to mend. */
export class RulePackError extends Error {
  constructor(
    readonly packName: string,
    readonly problems: string[],
  ) {
    super(`The rule pack ${packName} cannot be loaded:\n${problems.map((line) => `- ${line}`).join('\n')}`);
    this.name = 'RulePackError';
  }
}

/** The plain case that examples and forms start from: a dead robin in the United States, tagged and donated. */
export function plainFacts(changes: Partial<CoverageFacts> = {}): CoverageFacts {
  return coverageFacts.parse({
    foundEarliestOn: '2025-05-01',
    foundLatestOn: '2025-05-01',
    receivedOn: '2025-05-04',
    place: { country: 'US', subdivision: null, county: null },
    finder: { personId: null, name: null, relation: 'public' },
    taxon: {
      name: 'Turdus migratorius',
      rank: 'species',
      genus: 'Turdus',
      family: 'Turdidae',
      order: 'Passeriformes',
    },
    specimenType: 'whole-bird',
    quantity: 1,
    groupSize: 1,
    bandNumber: null,
    bandIsFederal: null,
    bandReportedOn: null,
    contactedOn: null,
    contactDocument: null,
    lawEnforcementToldOn: null,
    instructionReference: null,
    writtenReleaseReference: null,
    tag: ['species', 'date', 'place', 'salvager-name', 'salvager-contact'],
    alive: false,
    nestInactive: null,
    eggNonviable: null,
    breedingSeason: null,
    finderTrained: null,
    activeSearch: false,
    suspectedIllegalKill: false,
    diseaseSigns: false,
    personalUseOrSale: false,
    sourceAuthorised: null,
    exhibitionBird: null,
    claims: [],
    ...changes,
  });
}

function exampleLists(pack: RulePack, names: Record<string, string[]>): TaxonList[] {
  return Object.entries(names).map(([listId, entries]) => ({
    listId,
    title: listId,
    jurisdiction: pack.jurisdiction,
    effect: pack.protectedListIds.includes(listId) ? 'protects' : 'flags',
    source: 'example in the pack',
    edition: 'example',
    editionOn: '2000-01-01',
    entries: entries.map((name) => ({
      name,
      englishName: null,
      acceptedName: null,
      match: 'not-tried',
      family: null,
      order: null,
    })),
  }));
}

export type ExampleResult = { name: string; passed: boolean; problem: string | null };

/** Work out the examples that a pack carries, without permits, and say where they differ from what it expects. */
export function runPackExamples(pack: RulePack): ExampleResult[] {
  return pack.examples.map((example) => {
    const protectedStatus = createProtectedStatus(exampleLists(pack, example.lists));
    const result = checkCoverage(plainFacts(example.facts), [], [pack], protectedStatus, {
      today: example.today,
      counted: [],
      overdueReports: [],
      confirmedRuleIds: [],
    });
    const codes = result.reasons.map((reason) => reason.code);
    const missing = example.expect.codes.filter((code) => !codes.includes(code));
    const problems = [
      ...(result.verdict === example.expect.verdict
        ? []
        : [`expected ${example.expect.verdict}, worked out ${result.verdict} (${codes.join(', ')})`]),
      ...missing.map((code) => `no reason with the code ${code}`),
    ];
    const problem = problems.length === 0 ? null : `${example.name}: ${problems.join('; ')}`;
    return { name: example.name, passed: problem === null, problem };
  });
}

function describePath(path: PropertyKey[]): string {
  return path.reduce<string>(
    (text, part) =>
      typeof part === 'number' ? `${text}[${part + 1}]` : text ? `${text}.${String(part)}` : String(part),
    '',
  );
}

/** Parse a pack from its JSON value. Throws RulePackError with every problem (positions count from 1). */
export function parseRulePack(value: unknown, packName: string): RulePack {
  const parsed = rulePack.safeParse(value);
  if (!parsed.success) {
    const problems = parsed.error.issues.map((issue) => {
      const where = describePath(issue.path);
      return where ? `${where}: ${issue.message}` : issue.message;
    });
    throw new RulePackError(packName, problems);
  }
  return parsed.data;
}

/** Parse a pack from text and work out its examples. Throws RulePackError when it is not JSON, or wrong, or an example differs. */
export function loadRulePack(text: string, packName: string): RulePack {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new RulePackError(packName, [`not valid JSON: ${(error as Error).message}`]);
  }
  const pack = parseRulePack(value, packName);
  const problems = runPackExamples(pack).flatMap((result) => result.problem ?? []);
  if (problems.length > 0) throw new RulePackError(packName, problems);
  return pack;
}

/** The pack that ships: United States, federal. Others are loaded by the officer. */
export function shippedRulePacks(): RulePack[] {
  return [parseRulePack(usFederal, 'us-federal.json')];
}
