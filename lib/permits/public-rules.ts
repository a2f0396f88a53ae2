/** The half of public.ts that browsers may load: words and pure rules, no database. */

export { legalCaution } from './caution';
export {
  type CoverageContext,
  type CoverageFacts,
  coverageFacts,
  type TaxonFact,
  taxonFact,
} from './coverage-schema';
export type { RulePack } from './pack-schema';
export { type Permit, permit } from './permit-schema';
export { checkCoverage } from './rules/coverage';
export {
  addDays,
  addYears,
  type DayRange,
  dayInYear,
  daysBetween,
  isCalendarDay,
  placeRange,
} from './rules/dates';
export {
  clausesOn,
  findClause,
  listDeadlineWarnings,
  type Period,
  reportDueOn,
  retainRecordsUntil,
  yearContaining,
} from './rules/deadlines';
export { createProtectedStatus, type ProtectedStatus } from './rules/status';
export { type ListedTaxon, toTaxonFact, unknownBird } from './rules/taxon-fact';
export type { CoverageResult, HoldKind } from './schema';
