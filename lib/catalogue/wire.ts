import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { QUALIFIERS, reviewStateSchema, sexSchema } from './schema';

/** Answers of the catalogue's routes: the review desk and the record. The search has its own in search-wire.ts. */
export const reviewListQuery = pageQuery;

export const reviewRow = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  number: z.string(),
  prepNumber: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  styleId: z.string(),
  preparator: z.string(),
  sentAt: z.string().nullable(),
  /** The reviewer's own work: another curator must decide. */
  own: z.boolean(),
  returnedBefore: z.boolean(),
  blocks: z.number().int(),
  notes: z.number().int(),
  firstPoint: z.string().nullable(),
});
export type ReviewRow = z.infer<typeof reviewRow>;
export const reviewPage = pageOf(reviewRow);

export const reviewPoint = z.object({
  code: z.string(),
  field: z.string().nullable(),
  sentence: z.string(),
  /** Words can explain it; otherwise somebody else must act first. */
  explainable: z.boolean(),
});

/** A value of the bench record with what is known of it. */
export const benchField = z.object({
  field: z.string(),
  value: z.json(),
  unit: z.string().nullable(),
  method: z.string().nullable(),
  verbatim: z.string().nullable(),
  at: z.string().nullable(),
  by: z.string().nullable(),
  /** Earlier values that were corrected, newest first. */
  superseded: z.array(z.object({ value: z.json(), at: z.string(), by: z.string() })),
});
export type BenchField = z.infer<typeof benchField>;

export const benchWarning = z.object({
  key: z.string(),
  field: z.string(),
  sentence: z.string(),
  /** Why it was let stand; null while nobody has said. */
  explained: z.string().nullable(),
});

export const boneRow = z.object({
  element: z.string(),
  side: z.string(),
  portion: z.string(),
  state: z.string(),
  place: z.string().nullable(),
});

export const recordMaterial = z.object({
  id: z.uuid(),
  label: z.string(),
  kind: z.string(),
  state: z.string().nullable(),
  custody: z.string(),
  /** Where it lies; null when it is away, or for those who do not see the store. */
  place: z.string().nullable(),
  description: z.string().nullable(),
  version: z.int32(),
  deaccession: z
    .object({
      method: z.string(),
      on: z.string(),
      authority: z.string(),
      document: z.string(),
      recipient: z.string().nullable(),
    })
    .nullable(),
  vial: z
    .object({
      tissues: z.array(z.string()),
      preservation: z.string(),
      amountLeft: z.number().nullable(),
      amountUnit: z.string(),
      qualityClass: z.number().int().nullable(),
      qualityReason: z.string().nullable(),
    })
    .nullable(),
});
export type RecordMaterial = z.infer<typeof recordMaterial>;

/** Where and when it was found, as far as this reader may know. */
export const origin = z.object({
  foundFrom: z.string(),
  foundTo: z.string(),
  country: z.string(),
  stateProvince: z.string(),
  county: z.string().nullable(),
  locality: z.string().nullable(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  uncertaintyM: z.number().nullable(),
  generalised: z.boolean(),
  circumstances: z.string().nullable(),
  cause: z.string(),
  permitNumber: z.string().nullable(),
  accession: z.object({ id: z.uuid(), number: z.string() }).nullable(),
});

const person = z.object({ id: z.uuid(), name: z.string() });

export const reviewRecord = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  number: z.string(),
  prepNumber: z.string(),
  state: reviewStateSchema,
  version: z.int32(),
  styleId: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  preparator: person,
  scribe: person.nullable(),
  startedAt: z.string(),
  sentAt: z.string().nullable(),
  origin,
  coverage: z.string(),
  holds: z.array(z.string()),
  fields: z.array(benchField),
  warnings: z.array(benchWarning),
  /** What a label usually holds and this record does not, and why. */
  lacks: z.array(z.string()),
  lackExplanation: z.string().nullable(),
  bones: z.object({
    rows: z.array(boneRow),
    unbalanced: z.array(z.string()),
    explanation: z.string().nullable(),
  }),
  materials: z.array(recordMaterial),
  similar: z.array(
    z.object({
      birdId: z.uuid(),
      number: z.string(),
      sex: sexSchema,
      age: z.string().nullable(),
      foundOn: z.string(),
      massG: z.number().nullable(),
      wingMm: z.number().nullable(),
    }),
  ),
  blocks: z.array(reviewPoint),
  notes: z.array(reviewPoint),
  lastReturn: z
    .object({
      at: z.string(),
      by: z.string(),
      remarks: z.array(z.object({ field: z.string(), remark: z.string(), answer: z.string().nullable() })),
      changes: z.array(z.object({ field: z.string(), from: z.json(), to: z.json() })),
      boneChanges: z.array(z.object({ bone: z.string(), from: z.string(), to: z.string() })),
    })
    .nullable(),
  /** Set once it is approved. */
  catalogueNumber: z.string().nullable(),
  abilities: z.object({ approve: z.boolean(), return: z.boolean() }),
});
export type ReviewRecord = z.infer<typeof reviewRecord>;

export const determination = z.object({
  id: z.uuid(),
  name: z.string(),
  verbatim: z.string(),
  qualifier: z.enum(QUALIFIERS).nullable(),
  determinedBy: z.string(),
  determinedOn: z.string(),
  remarks: z.string().nullable(),
  current: z.boolean(),
});
export type Determination = z.infer<typeof determination>;

export const amendment = z.object({
  id: z.uuid(),
  field: z.string(),
  before: z.json(),
  after: z.json(),
  reason: z.string(),
  at: z.string(),
  by: z.string(),
});

/** A bird as the catalogue shows it: the specimen sheet. */
export const catalogueRecord = z.object({
  birdId: z.uuid(),
  number: z.string(),
  catalogueNumber: z.string().nullable(),
  prepNumber: z.string().nullable(),
  stage: z.string(),
  scientificName: z.string(),
  qualifier: z.enum(QUALIFIERS).nullable(),
  commonName: z.string().nullable(),
  familyName: z.string().nullable(),
  sex: sexSchema,
  age: z.string().nullable(),
  styleId: z.string().nullable(),
  preparator: z.string().nullable(),
  preparedOn: z.string().nullable(),
  approvedAt: z.string().nullable(),
  approvedBy: z.string().nullable(),
  benchId: z.uuid().nullable(),
  benchState: reviewStateSchema.nullable(),
  origin,
  fields: z.array(benchField),
  explained: z.array(z.object({ point: z.string(), explanation: z.string() })),
  bones: z.array(boneRow),
  materials: z.array(recordMaterial),
  determinations: z.array(determination),
  amendments: z.array(amendment),
  /** Values that fields had before, for who may put one back by an amendment. */
  earlier: z.array(z.object({ field: z.string(), value: z.json(), at: z.string() })),
  abilities: z.object({
    amend: z.boolean(),
    determine: z.boolean(),
    deaccession: z.boolean(),
    history: z.boolean(),
  }),
});
export type CatalogueRecord = z.infer<typeof catalogueRecord>;

export const approvedAnswer = z.object({ birdId: z.uuid(), catalogueNumber: z.string() });

export const savedView = z.object({
  id: z.uuid(),
  name: z.string(),
  query: z.string(),
  shared: z.boolean(),
  own: z.boolean(),
});
export type SavedView = z.infer<typeof savedView>;
export const savedViews = z.object({ views: z.array(savedView) });
