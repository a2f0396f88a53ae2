/** The half of public.ts that browsers may load: words and pure rules, no database. */
export {
  type CoverageContext,
  type CoverageFacts,
  type CoverageResult,
  coverageFacts,
  coverageReason,
  coverageResult,
  type TaxonFact,
  taxonFact,
  type Verdict,
  verdict,
} from './coverage-schema';
export type { RulePack } from './pack-schema';
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
export {
  calendarDay,
  type HoldKind,
  holdKind,
  holdKinds,
  legalCaution,
  type Permit,
  permit,
  type SpecimenType,
  specimenType,
  specimenTypes,
  tagField,
} from './schema';
