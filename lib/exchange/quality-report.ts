import type { ExportBird, ExportHolder } from '@/lib/exchange/export-types';
import { mapOccurrence } from '@/lib/exchange/map-bird';
import {
  type FlatRecord,
  isEmptyValue,
  QUALITY_TESTS,
  type QualityOptions,
} from '@/lib/exchange/quality-tests';
import type { TermRow } from '@/lib/exchange/terms';

export interface QualityFinding {
  test: string;
  compliant: number;
  notCompliant: number;
  notApplicable: number;
  /** The first records that failed, with the reason. */
  examples: { occurrenceId: string; comment: string }[];
}

export interface QualityReport {
  records: number;
  findings: QualityFinding[];
  /** Records by level of minimum information, -1 to 3; see `findMidsLevel`. */
  midsLevels: Record<string, number>;
  /** Elements of the standard that records lack for the next level, with how many lack each. */
  missingElements: Record<string, number>;
}

const EXAMPLES = 5;

/** The row of an export as text by local term name, as the tests and levels read it. */
export function flattenRow(row: TermRow): FlatRecord {
  const record: FlatRecord = {};
  for (const [term, value] of Object.entries(row)) {
    if (value !== null && value !== undefined) record[term.slice(term.indexOf(':') + 1)] = String(value);
  }
  return record;
}

type Element = [name: string, level: 0 | 1 | 2 | 3, terms: string[][]];

/**
 * Information elements of the MIDS draft (April 2026) for biology, with the terms that satisfy each: any of the
 * lists, and of a list all. Media count only where a bird has some to show.
 */
const ELEMENTS: Element[] = [
  [
    'PhysicalSpecimenID',
    0,
    [
      ['materialEntityID'],
      ['catalogNumber'],
      ['otherCatalogNumbers'],
      ['occurrenceID'],
      ['materialSampleID'],
    ],
  ],
  ['Organization', 0, [['institutionCode'], ['institutionID'], ['ownerInstitutionCode']]],
  ['Name', 1, [['scientificName'], ['vernacularName'], ['scientificNameID'], ['organismName']]],
  ['ObjectType', 1, [['preparations'], ['materialEntityType']]],
  ['License', 1, [['license']]],
  ['Modified', 1, [['modified']]],
  [
    'QualitativeLocation',
    2,
    [
      ['locality'],
      ['county'],
      ['municipality'],
      ['verbatimLocality'],
      ['stateProvince'],
      ['country'],
      ['countryCode'],
      ['verbatimCoordinates'],
    ],
  ],
  ['QuantitativeLocation', 2, [['decimalLatitude', 'decimalLongitude'], ['locationID'], ['footprintWKT']]],
  ['CollectingAgent', 2, [['recordedBy'], ['recordedByID']]],
  ['DateCollected', 2, [['eventDate'], ['year'], ['verbatimEventDate']]],
  ['CollectingNumber', 2, [['recordNumber'], ['fieldNumber']]],
  ['OrganizationID', 3, [['institutionID']]],
  ['CollectingAgentID', 3, [['recordedByID']]],
  ['IdentifiedByID', 3, [['identifiedByID']]],
  [
    'GeographicalLocalityID',
    3,
    [
      ['locationID'],
      [
        'decimalLatitude',
        'decimalLongitude',
        'geodeticDatum',
        'coordinateUncertaintyInMeters',
        'coordinatePrecision',
      ],
    ],
  ],
];

/** The highest level for which nothing is missing, -1 when not even the barest; and what the next one lacks. */
export function findMidsLevel(record: FlatRecord): { level: -1 | 0 | 1 | 2 | 3; missing: string[] } {
  for (const level of [0, 1, 2, 3] as const) {
    const missing = ELEMENTS.filter(
      ([, at, alternatives]) =>
        at === level && !alternatives.some((terms) => terms.every((term) => !isEmptyValue(record[term]))),
    ).map(([name]) => name);
    if (missing.length > 0) return { level: (level - 1) as -1 | 0 | 1 | 2, missing };
  }
  return { level: 3, missing: [] };
}

/** Runs every test on what would leave the house, in one pass; memory does not grow with the records. */
export async function reportQuality(
  birds: AsyncIterable<ExportBird>,
  holder: ExportHolder,
  options: QualityOptions,
): Promise<QualityReport> {
  const tests = Object.entries(QUALITY_TESTS).map(([test, run]) => ({
    run,
    finding: { test, compliant: 0, notCompliant: 0, notApplicable: 0, examples: [] } as QualityFinding,
  }));
  const report: QualityReport = { records: 0, findings: [], midsLevels: {}, missingElements: {} };
  for await (const bird of birds) {
    const record = flattenRow(mapOccurrence(bird, holder));
    report.records += 1;
    for (const { run, finding } of tests) {
      const answer = run(record, options);
      if (answer.status !== 'RUN_HAS_RESULT') finding.notApplicable += 1;
      else if (answer.result === 'COMPLIANT') finding.compliant += 1;
      else {
        finding.notCompliant += 1;
        if (finding.examples.length < EXAMPLES)
          finding.examples.push({ occurrenceId: bird.occurrenceId, comment: answer.comment });
      }
    }
    const { level, missing } = findMidsLevel(record);
    report.midsLevels[level] = (report.midsLevels[level] ?? 0) + 1;
    for (const element of missing)
      report.missingElements[element] = (report.missingElements[element] ?? 0) + 1;
  }
  report.findings = tests.map(({ finding }) => finding);
  return report;
}
