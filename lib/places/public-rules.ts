export { findNamedCentre, type NamedCentre } from '@/lib/places/centres';
export type { CoordinateSystem, ParsedCoordinates } from '@/lib/places/coordinate-shapes';
export {
  type CoordinateOptions,
  formatCoordinates,
  parseCoordinates,
  parseLatitudeLongitude,
} from '@/lib/places/coordinates';
export {
  checkPlaceAgreement,
  type LocatedPlace,
  locatePoint,
  type NamedPlace,
  OUTLINE_TOLERANCE_M,
  type PlaceAgreement,
  suggestTranspositions,
} from '@/lib/places/counties';
export {
  buildDateFromDays,
  buildDateFromParts,
  type DateOptions,
  type ParsedDate,
  parseDate,
} from '@/lib/places/dates';
export { standardiseDatum } from '@/lib/places/datums';
export { findMetresPerUnit, type MetreRange, parseMetreRange } from '@/lib/places/distances';
export {
  type GeneralisationStep,
  type GeneralisedPlace,
  generalisePlace,
  PLACE_TERMS_WITHHELD,
  SHARED_STEP,
} from '@/lib/places/generalise';
export {
  drawUncertaintyRing,
  measureGeodesic,
  type Point,
  toMgrs,
  toUtm,
  travelGeodesic,
} from '@/lib/places/geodesy';
export {
  type CombinedUncertainty,
  checkUncertainty,
  GEOREFERENCE_PROTOCOL,
  georeferenceCoordinates,
  georeferenceOffset,
  LARGEST_UNCERTAINTY_M,
  measureExtent,
  measureGrid,
  measureMap,
  measurePrecision,
  measureSurveySquare,
  type UncertaintyTerm,
} from '@/lib/places/georeference';
export {
  type DateInterval,
  type EventParts,
  findDayOfYear,
  findEventConflicts,
  listEventParts,
  measureInterval,
  parseIsoDate,
} from '@/lib/places/iso-dates';
export { findMonth } from '@/lib/places/month-names';
export { accept, type Outcome, type Refusal, refuse } from '@/lib/places/outcome';
export { type PlaceReading, readPlace } from '@/lib/places/read-place';
