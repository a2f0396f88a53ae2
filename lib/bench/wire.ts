import { z } from 'zod';
import { clockSettings } from '@/lib/bench/clocks';
import { comparison } from '@/lib/bench/comparison';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';
import { benchState, materialKind, preparationStyleId, sex } from '@/lib/bench/schema';
import { benchSettings } from '@/lib/bench/settings';
import { preparationStyle } from '@/lib/bench/styles';
import { benchTimes } from '@/lib/bench/wire-desk';

/** Requests and answers of the bench's routes. */
const fieldId = z.enum(FIELD_IDS as [FieldId, ...FieldId[]]);
const instant = z.iso.datetime({ offset: true });
const person = z.object({ id: z.uuid(), name: z.string() });
const version = z.int32();

export const startRequest = z.object({ birdId: z.uuid() });

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
  derived: z.object({
    sex,
    sexConfidence: z.string(),
    sexReasons: z.array(z.string()),
    age: z.string(),
    ageConfidence: z.string(),
  }),
  lacks: z.array(z.object({ id: z.string(), sentence: z.string() })),
  abilities: benchAbilities,
});
export type BenchRecord = z.infer<typeof benchRecord>;

/**
 * A record without what its numbers are held against, which is the largest part of it and is not changed by what is
 * written in the record.
 */
export const writtenRecord = benchRecord.omit({ comparison: true });
export type WrittenRecord = z.infer<typeof writtenRecord>;

const clientKey = z.string().min(8).max(60);

export const entryRequest = z.object({
  field: fieldId,
  /** Null takes the value away. */
  value: z.json(),
  method: z.string().max(60).nullable().default(null),
  /** As it was said, before any conversion of units. */
  verbatim: z.string().max(2000).nullable().default(null),
  correction: z.boolean().default(false),
  /** Repeated deliveries of one change carry the same key and are carried out once. */
  clientKey,
  /** When it was written, by the writer's own clock. */
  enteredAt: instant.optional(),
});
export type EntryRequest = z.input<typeof entryRequest>;

export const writeRequest = z.object({
  entries: z.array(entryRequest).min(1).max(200),
  /** The writer's clock at sending: tells how long ago each entry was made, however wrong that clock is. */
  sentAt: instant.optional(),
});
export type WriteRequest = z.input<typeof writeRequest>;

export const writeAnswer = z.object({
  outcomes: z.array(
    z.object({
      clientKey: z.string(),
      field: fieldId,
      outcome: z.enum(['written', 'unchanged', 'outranked', 'repeated']),
    }),
  ),
  record: writtenRecord,
});
export type WriteAnswer = z.infer<typeof writeAnswer>;

export const entryQuery = z.object({ field: fieldId });
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

export const stepRequest = z.object({
  step: z.string().max(80),
  done: z.boolean(),
  /** How long the mark waited to be sent, so that clocks run from when it was made. */
  waitedMs: z.int().min(0).default(0),
});
export const overrideRequest = z.object({
  key: z.string().min(1).max(600),
  /** Null takes the explanation away. */
  reason: z.string().trim().min(3, 'Say why the figure stands.').max(1000).nullable(),
});
export const styleRequest = z.object({ styleId: preparationStyleId, version });
export const scribeRequest = z.object({ personId: z.uuid().nullable() });
export const remarkAnswerRequest = z.object({
  remarkId: z.string().max(60),
  text: z.string().trim().min(1, 'Say what was done about it.').max(2000),
});
export const divideRequest = z.object({
  products: z
    .array(
      z.object({
        kind: materialKind.exclude(['carcass', 'vial']),
        count: z.int().min(1).max(9).default(1),
        description: z.string().trim().max(500).nullable().default(null),
      }),
    )
    .max(12),
});
export type DivideRequest = z.input<typeof divideRequest>;
export const sendRequest = z.object({
  version,
  /** Why something is missing; needed where something is. */
  explanation: z.string().trim().max(2000).nullable().default(null),
});
export const takeBackRequest = z.object({
  version,
  reason: z.string().trim().max(500).nullable().default(null),
});

export const colleagues = z.object({ people: z.array(person) });

export const labSettings = z.object({
  styles: z.array(
    z.object({ style: preparationStyle, savedAt: z.string().nullable(), savedBy: z.string().nullable() }),
  ),
  scales: z.partialRecord(fieldId, z.string()),
  clocks: clockSettings,
  references: z.array(
    z.object({ id: z.uuid(), title: z.string(), source: z.string(), taxa: z.int(), loadedAt: z.string() }),
  ),
  mayChange: z.boolean(),
});
export type LabSettings = z.infer<typeof labSettings>;

/** `version` of the style is the one that was changed; the save is the next. */
export const saveStyleRequest = z.object({ style: preparationStyle });
export const labRequest = benchSettings.required();
export const referenceRequest = z.object({
  title: z.string().trim().min(1, 'Name the table.').max(120),
  source: z.string().trim().min(1, 'Say where the figures come from.').max(300),
  /** CSV with a head: scientificName and number fields of the bench record, in mm and g. */
  csv: z.string().min(10, 'The table is empty.').max(950_000),
});
