export { TISSUE_KINDS, type TissueKind } from '@/lib/bench/catalogue/body';
export type { CautionId } from '@/lib/bench/caution-titles';
export { CAUTION_ENDING, CAUTIONS } from '@/lib/bench/cautions';
export {
  type BenchValues,
  FIELDS,
  type FieldId,
  type FieldValue,
  fieldsOfSection,
  isFieldId,
} from '@/lib/bench/fields';
export { sayFieldValue } from '@/lib/bench/say';
export {
  BENCH_STATES,
  type BenchState,
  MATERIAL_KINDS,
  type MaterialKind,
  PREPARATION_STYLES,
  type PreparationStyleId,
  SEXES,
  type Sex,
} from '@/lib/bench/schema';
export {
  judgeForReview,
  markApproved,
  markReturned,
  type RecordForReview,
} from '@/lib/bench/service/review';
export { deriveSex } from '@/lib/bench/sexing';
export { plainValues, readSnapshot } from '@/lib/bench/snapshot';
export { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
export type { PreparationStyle } from '@/lib/bench/styles';
