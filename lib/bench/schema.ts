import { z } from 'zod';

/** States of a bench record; the transitions are in rules.ts. */
export const BENCH_STATES = ['draft', 'in-review', 'returned', 'approved'] as const;
export const benchState = z.enum(BENCH_STATES);
export type BenchState = z.infer<typeof benchState>;

export const SEXES = ['female', 'male', 'undetermined'] as const;
export const sex = z.enum(SEXES);
export type Sex = z.infer<typeof sex>;

export const AGES = ['nestling', 'juvenile', 'first-year', 'immature', 'adult', 'undetermined'] as const;
export const age = z.enum(AGES);
export type Age = z.infer<typeof age>;

export const PREPARATION_STYLES = [
  'skin-with-partial-skeleton',
  'whole-skeleton',
  'spread-wing-with-skin',
  'flat-skin',
  'fluid',
  'tissue-only',
  'discard',
] as const;
export const preparationStyleId = z.enum(PREPARATION_STYLES);
export type PreparationStyleId = z.infer<typeof preparationStyleId>;
/** The style a record names, as it is stored. */
export const knownStyleId = preparationStyleId.catch('skin-with-partial-skeleton');

export const MATERIAL_KINDS = [
  'carcass',
  'skin',
  'skeleton',
  'vial',
  'wing',
  'flat-skin',
  'fluid',
  'stomach',
  'other',
] as const;
export const materialKind = z.enum(MATERIAL_KINDS);
export type MaterialKind = z.infer<typeof materialKind>;
