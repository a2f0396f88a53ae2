/** The half of public.ts that browsers may load: words and pure rules, no database. */
export { formatDateInterval, parseDateInterval } from './rules/date-interval';
export { type DatedFind, findGroupEvents, type GroupEvent } from './rules/group-events';
export { canLiftHold, holdRules, sortHolds, stoppedByHolds } from './rules/holds';
export { codeSubdivision, nameSubdivision } from './rules/subdivisions';
export { canMoveSalvage, salvageTransitions } from './rules/transitions';
export {
  type DateInterval,
  type FindPlace,
  type ReportFindRequest,
  reportFindRequest,
  type SalvageState,
  salvageState,
  suspectedCause,
} from './schema';
