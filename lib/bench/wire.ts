import { z } from 'zod';
import { benchTimes, clockSettings } from '@/lib/bench/clock-schema';
import { comparison } from '@/lib/bench/comparison';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';
import { benchState, materialKind, sex } from '@/lib/bench/schema';
import { preparationStyle } from '@/lib/bench/styles';

/** Answers of the bench's routes about a record. */
const fieldId = z.enum(FIELD_IDS as [FieldId, ...FieldId[]]);
const person = z.object({ id: z.uuid(), name: z.string() });

export const shownValue = z.object({
  value: z.json(),
  unit: z.string().nullable(),
  verbatim: z.string().nullable(),
  method: z.string().nullable(),
  at: z.string(),
  by: person,
});
export type ShownValue = z.infer<typeof shownValue>;

const stamp = z.object({ at: z.string(), by: person });

export const benchRemark = z.object({
  id: z.string(),
  field: z.string(),
  remark: z.string(),
  at: z.string(),
  by: person,
  answer: z.object({ text: z.string(), at: z.string(), by: person }).nullable(),
});
export type BenchRemark = z.infer<typeof benchRemark>;

export const benchProduct = z.object({
  id: z.uuid(),
  label: z.string(),
  kind: materialKind,
  state: z.string().nullable(),
  custody: z.string(),
  place: z.string().nullable(),
  description: z.string().nullable(),
});
export type BenchProduct = z.infer<typeof benchProduct>;

/** What the evidence of a record says, beside what was determined. */
const derived = z.object({
  sex,
  sexConfidence: z.string(),
  sexReasons: z.array(z.string()),
  /** Does some of the evidence speak against the rest? */
  sexContradicted: z.boolean(),
  age: z.string(),
  ageConfidence: z.string(),
  ageFindings: z.array(
    z.object({ evidence: z.string(), seen: z.string(), caution: z.string(), source: z.string() }),
  ),
  /** Each measured gonad, and where it lies among the same taxon, sex and month here. */
  gonads: z.array(
    z.object({
      field: fieldId,
      label: z.string(),
      lengthMm: z.number(),
      widthMm: z.number().nullable(),
      volumeMm3: z.number().nullable(),
      sentence: z.string(),
    }),
  ),
});
export type Derived = z.infer<typeof derived>;

export const benchAbilities = z.object({
  write: z.boolean(),
  divide: z.boolean(),
  send: z.boolean(),
  takeBack: z.boolean(),
  manageStyles: z.boolean(),
});

export const benchRecord = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  number: z.string(),
  catalogueNumber: z.string().nullable(),
  prepNumber: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  state: benchState,
  carcassState: z.string(),
  birdVersion: z.int(),
  /** What was known when the bird came in. */
  arrival: z.object({
    foundFrom: z.string(),
    foundTo: z.string(),
    cause: z.string(),
    condition: z.string(),
    circumstances: z.string(),
    bandNumber: z.string().nullable(),
  }),
  style: preparationStyle,
  preparator: person,
  scribe: person.nullable(),
  startedAt: z.string(),
  sentAt: z.string().nullable(),
  version: z.int32(),
  values: z.partialRecord(fieldId, shownValue),
  /** How many earlier entries each field has. */
  earlier: z.partialRecord(fieldId, z.int()),
  steps: z.record(z.string(), stamp),
  overrides: z.record(z.string(), stamp.extend({ reason: z.string() })),
  remarks: z.array(benchRemark),
  lackExplanation: z.string().nullable(),
  products: z.array(benchProduct),
  times: benchTimes,
  clockSettings,
  scales: z.partialRecord(fieldId, z.string()),
  comparison,
  warnings: z.array(
    z.object({
      key: z.string(),
      field: fieldId,
      check: z.string(),
      sentence: z.string(),
      explained: z.string().nullable(),
    }),
  ),
  derived,
  lacks: z.array(z.object({ id: z.string(), sentence: z.string() })),
  abilities: benchAbilities,
});
export type BenchRecord = z.infer<typeof benchRecord>;

/**
 * What a delivery of values may have changed of a record; of the earlier entries, those of the fields it names. What
 * follows from the values is judged where they are shown.
 */
const writtenValues = benchRecord.pick({ values: true, earlier: true, lacks: true });
export type WrittenValues = z.infer<typeof writtenValues>;

export const writeAnswer = z.object({
  outcomes: z.array(
    z.object({
      clientKey: z.string(),
      field: fieldId,
      outcome: z.enum(['written', 'unchanged', 'outranked', 'repeated']),
    }),
  ),
  record: writtenValues,
});
export type WriteAnswer = z.infer<typeof writeAnswer>;

export const entryHistory = z.object({
  entries: z.array(
    z.object({
      id: z.uuid(),
      value: z.json(),
      unit: z.string().nullable(),
      verbatim: z.string().nullable(),
      method: z.string().nullable(),
      at: z.string(),
      by: person,
      current: z.boolean(),
      outranked: z.boolean(),
      undo: z.boolean(),
    }),
  ),
});
export type EntryHistory = z.infer<typeof entryHistory>;

export const colleagues = z.object({ people: z.array(person) });
