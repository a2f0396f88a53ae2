export { computeTimeExposed, type TimeExposed } from './exposure';
export { type GgbnRow, type GgbnTerm, ggbnRowTypes, ggbnTerms, mapVialToGgbn } from './ggbn';
export { consumeFromVial, formatAmount, subtractAmount, takeSubSample } from './rules';
export {
  type Amount,
  amountSchema,
  amountUnits,
  type TissueKind,
  tissueKindSchema,
  tissueKinds,
  type Vial,
  type VialState,
  vialSchema,
  vialStateSchema,
} from './schema';
export { judgeUses, tissueUses, type UseVerdict } from './uses';
