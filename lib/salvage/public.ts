export { formatDateInterval, parseDateInterval } from './rules/date-interval';
export { type DatedFind, findGroupEvents, type GroupEvent } from './rules/group-events';
export { canLiftHold, holdRules, sortHolds, stoppedByHolds } from './rules/holds';
export { canMoveSalvage, salvageTransitions } from './rules/transitions';
export { type DateInterval, type FindPlace, type SalvageState, salvageState, suspectedCause } from './schema';
