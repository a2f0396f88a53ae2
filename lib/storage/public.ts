export {
  type BoxAtRisk,
  type EvacuationStep,
  planEvacuation,
  type Refuge,
  type VialAtRisk,
} from './evacuation';
export { type Excursion, ExcursionFinder, type LogGap } from './excursions';
export { defaultThawSettings, type Exposure, listExposures, type Stay } from './exposure';
export { type BoxWithSpace, findSpace, type SpaceProposal, type SpaceRequest } from './find-space';
export { markOf, preservationOf } from './keeping';
export {
  advanceMaterial,
  changeCustody,
  createMaterial,
  markFound,
  markMissing,
  moveMaterial,
} from './materials';
export { labelOf, placePath } from './naming';
export { emptyOccupancy, type Occupancy, placeMaterial, takeMaterial } from './occupancy';
export { assessPestFreeze, PEST_FREEZE_RULE, type PestFreezeVerdict } from './pest-freeze';
export { countPositions, findFreePositions, formatPosition, parsePosition } from './positions';
export {
  beginStep,
  instantOf,
  judgePestFreeze,
  listProcess,
  type Process,
  type ProcessFacts,
  shelve,
  takeChosen,
} from './process';
export { classifyQuality, type QualityClass } from './quality';
export { rateVial } from './rating';
export {
  buildStorageTree,
  checkPlacement,
  checkUnitMove,
  formatPathName,
  formatPlace,
  listPath,
  preservationWords,
  resolveConditions,
  type StorageTree,
} from './rules';
export {
  type Grid,
  gridSchema,
  type MaterialPlace,
  type PreservationKind,
  preservationKindSchema,
  preservationKinds,
  type StorageUnit,
  type StorageUnitKind,
  storageUnitKindSchema,
  storageUnitKinds,
  storageUnitSchema,
  type Verdict,
} from './schema';
export { findCodeOwner } from './service/codes';
export { findLogStays } from './service/logs';
export { listMoves } from './service/moves';
export { findUnitsInside, loadTree, loadUnits } from './service/tree';
export { shelvingProblem } from './shelving';
