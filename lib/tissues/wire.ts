import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { preservationKindSchema } from '@/lib/storage/schema';
import {
  amountSchema,
  containerKinds,
  preservationSchema,
  tissueKindSchema,
  tissueOriginSchema,
  tissueTimesSchema,
  vialStateSchema,
} from './schema';
import { tissueUses } from './uses';

/** Requests and answers of the tissue routes. */
const reason = z.string().trim().min(1, 'Say why.').max(500);
const position = z.object({ unitId: z.uuid(), position: z.string().trim().max(12).nullish() });
const code = z
  .string()
  .trim()
  .regex(/^[\x21-\x7e]{1,40}$/, 'A code has plain letters, figures and signs only, without spaces.');

const container = z.object({
  kind: z.enum(containerKinds),
  volumeMl: z.number().gt(0).max(1000).nullable().default(null),
});
const filled = z.object({
  tissues: z
    .array(tissueKindSchema)
    .min(1, 'Say which tissue is in it.')
    .refine((kinds) => new Set(kinds).size === kinds.length, 'Each tissue only once.'),
  preservation: preservationSchema,
  container,
  /** null: not measured. */
  amount: amountSchema
    .refine((amount) => amount.value > 0, 'More than nothing.')
    .nullable()
    .default(null),
  /** What a bought vial carries already; left out, its own number is its code. */
  code: code.nullish(),
  position: position.nullish(),
  remarks: z.string().trim().max(1000).nullish(),
});

export const fillRequest = z.object({
  birdId: z.uuid(),
  vials: z.array(filled).min(1, 'Fill at least one vial.').max(40),
  origin: tissueOriginSchema.default('salvaged'),
  /** What is left out is taken from the bird: found, frozen, out of the freezer; sampled and preserved now. */
  times: tissueTimesSchema.optional(),
});
export type FillRequest = z.infer<typeof fillRequest>;

export const qualityShape = z.object({
  stars: z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4)]).nullable(),
  reason: z.string(),
});

export const vialRow = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  label: z.string(),
  code: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  tissues: z.array(tissueKindSchema),
  preservation: preservationSchema,
  amount: amountSchema.nullable(),
  left: amountSchema.nullable(),
  state: vialStateSchema,
  custody: z.string(),
  place: z.string().nullable(),
  quality: qualityShape,
  thawCount: z.int(),
  sampledOn: z.string().nullable(),
});
export type VialRow = z.infer<typeof vialRow>;

export const vialListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  tissue: tissueKindSchema.optional(),
  preservation: preservationKindSchema.optional(),
  state: vialStateSchema.optional(),
  custody: z.enum(['on-shelf', 'on-loan', 'missing', 'used-up', 'deaccessioned']).optional(),
  /** At least this class. */
  quality: z.coerce.number().int().min(1).max(4).optional(),
  /** In this unit or in anything that stands in it. */
  unitId: z.uuid().optional(),
});
export type VialListQuery = z.infer<typeof vialListQuery>;
export const vialPage = pageOf(vialRow);

const duplicates = z.object({ isApart: z.boolean(), message: z.string() });
export const birdVials = z.object({
  birdId: z.uuid(),
  number: z.string(),
  scientificName: z.string(),
  /** Times known of the bird, as a new vial takes them over. */
  times: tissueTimesSchema,
  vials: z.array(vialRow),
  duplicates,
  nextSuffix: z.string(),
  abilities: z.object({ fill: z.boolean(), obstacle: z.string().nullable() }),
});
export type BirdVials = z.infer<typeof birdVials>;

const use = z.object({
  id: z.uuid(),
  amount: amountSchema.nullable(),
  purpose: z.string(),
  thawed: z.boolean(),
  child: z.object({ id: z.uuid(), label: z.string() }).nullable(),
  at: z.string(),
  by: z.string(),
});

export const vialRecord = vialRow.extend({
  version: z.int32(),
  suffix: z.string(),
  birdNumber: z.string(),
  container,
  origin: tissueOriginSchema,
  dnaYieldUg: z.number().nullable(),
  remarks: z.string().nullable(),
  times: tissueTimesSchema,
  filledBy: z.string(),
  filledAt: z.string(),
  exposed: z.object({
    spells: z.array(z.object({ name: z.string(), leastHours: z.number(), mostHours: z.number() })),
    leastHours: z.number(),
    mostHours: z.number(),
    unknown: z.array(z.string()),
  }),
  goodFor: z.array(
    z.object({ use: z.enum(tissueUses), verdict: z.enum(['good', 'doubtful', 'unfit']), reason: z.string() }),
  ),
  parent: z.object({ id: z.uuid(), label: z.string(), isVial: z.boolean() }).nullable(),
  children: z.array(vialRow),
  siblings: z.array(vialRow),
  duplicates,
  uses: z.array(use),
  thaws: z.array(
    z.object({ id: z.uuid(), thaws: z.int(), reason: z.string(), at: z.string(), by: z.string() }),
  ),
  loan: z.object({ id: z.uuid(), number: z.string() }).nullable(),
  unitId: z.uuid().nullable(),
  abilities: z.object({
    use: z.boolean(),
    change: z.boolean(),
    move: z.boolean(),
    lose: z.boolean(),
    find: z.boolean(),
  }),
});
export type VialRecord = z.infer<typeof vialRecord>;

export const useRequest = z.object({
  amount: amountSchema,
  purpose: z.string().trim().min(1, 'Say what for.').max(500),
  /** The vial thawed for it. */
  thawed: z.boolean().default(false),
});
export type UseRequest = z.infer<typeof useRequest>;

export const subSampleRequest = useRequest.extend({
  preservation: preservationSchema.optional(),
  container: container.optional(),
  code: code.nullish(),
  position: position.nullish(),
});
export type SubSampleRequest = z.infer<typeof subSampleRequest>;

export const changeVialRequest = z.object({
  version: z.int32(),
  reason,
  /** Measured later: only while nothing was measured yet. */
  amount: amountSchema.refine((amount) => amount.value > 0, 'More than nothing.').optional(),
  dnaYieldUg: z.number().min(0).max(1_000_000).nullable().optional(),
  origin: tissueOriginSchema.optional(),
  container: container.optional(),
  remarks: z.string().trim().max(1000).nullable().optional(),
  times: tissueTimesSchema.optional(),
});
export type ChangeVialRequest = z.infer<typeof changeVialRequest>;

export const endRequest = z.object({ act: z.enum(['lose', 'use-up']), reason });
export type EndRequest = z.infer<typeof endRequest>;
export const findRequest = z.object({ to: position.nullish(), reason });
export type FindRequest = z.infer<typeof findRequest>;

export const exposedVials = z.object({
  log: z.object({ id: z.uuid(), unitId: z.uuid(), unitName: z.string(), fileName: z.string() }),
  excursions: z.int(),
  rows: z.array(
    z.object({
      id: z.uuid(),
      label: z.string(),
      scientificName: z.string(),
      tissues: z.array(tissueKindSchema),
      minutes: z.number(),
      peakC: z.number(),
      isOpenEnded: z.boolean(),
      thawCount: z.int(),
      proposedThawCount: z.int(),
      reasons: z.array(z.string()),
      /** Counted already, for this log. */
      isCounted: z.boolean(),
    }),
  ),
  abilities: z.object({ count: z.boolean() }),
});
export type ExposedVials = z.infer<typeof exposedVials>;
export const countThawsRequest = z.object({
  vialIds: z.array(z.uuid()).min(1, 'Choose at least one vial.').max(5000),
});

export const evacuationList = z.object({
  unit: z.object({ id: z.uuid(), name: z.string(), path: z.string() }),
  steps: z.array(
    z.object({
      rank: z.int(),
      boxId: z.uuid(),
      pathName: z.string(),
      score: z.number(),
      reasons: z.array(z.string()),
      vials: z.int(),
      refuge: z.object({ unitId: z.uuid(), pathName: z.string() }).nullable(),
      remark: z.string().nullable(),
    }),
  ),
});
export type EvacuationList = z.infer<typeof evacuationList>;
