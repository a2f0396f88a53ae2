import { z } from 'zod';
import { givenDay, STAY_STATUSES } from '@/lib/platform/days';
import { pageQuery } from '@/lib/platform/paging';

/** Kinds of storage units, from the outside in. */
export const storageUnitKinds = [
  'site',
  'room',
  'freezer',
  'cabinet',
  'rack',
  'drawer',
  'shelf',
  'box',
] as const;
export const storageUnitKindSchema = z.enum(storageUnitKinds);
export type StorageUnitKind = z.infer<typeof storageUnitKindSchema>;

/** How stored material is kept. Storage owns the words because it has to refuse the wrong freezer. */
export const preservationKinds = [
  'frozen',
  'liquid-nitrogen',
  'ethanol',
  'dmso-salt',
  'rna-stabiliser',
  'dry',
] as const;
export const preservationKindSchema = z.enum(preservationKinds);
export type PreservationKind = z.infer<typeof preservationKindSchema>;

/**
 * How positions of a grid are written.
 * row-letter: rows A, B, C…, columns 1, 2, 3… (A1 is the top left, A2 right of it).
 * column-letter: columns A, B, C…, rows 1, 2, 3… (A2 is below A1).
 * running-by-row, running-by-column: 1..n along rows, or down columns.
 */
export const positionSchemes = [
  'row-letter',
  'column-letter',
  'running-by-row',
  'running-by-column',
] as const;
export const positionSchemeSchema = z.enum(positionSchemes);
export type PositionScheme = z.infer<typeof positionSchemeSchema>;

export const gridSchema = z.object({
  rows: z.int().min(1).max(1000),
  columns: z.int().min(1).max(1000),
  scheme: positionSchemeSchema,
});
/** A grid of positions; a position is an index 0..rows×columns−1 counted along rows. */
export type Grid = z.infer<typeof gridSchema>;

export const storageUnitSchema = z
  .object({
    id: z.string().min(1),
    parentId: z.string().min(1).nullable(),
    /** Position in the parent's grid, where the parent has one. */
    parentPosition: z.int().min(0).nullable(),
    kind: storageUnitKindSchema,
    name: z.string().trim().min(1).max(120),
    /** What its own printed label encodes. */
    code: z.string().trim().min(1).max(40),
    grid: gridSchema.nullable(),
    /** How many things lie directly in it, where it has no grid; null: not limited. */
    capacity: z.int().min(0).nullable(),
    /** Degrees Celsius the unit is set to; null: as the unit around it. */
    targetTemperatureC: z.number().min(-273.15).max(100).nullable(),
    /** What may be kept here; null: as the unit around it. */
    allowedPreservations: z.array(preservationKindSchema).min(1).nullable(),
  })
  .refine((unit) => unit.grid === null || unit.capacity === null, {
    message: 'A unit with a grid takes its capacity from the grid.',
    path: ['capacity'],
  });
export type StorageUnit = z.infer<typeof storageUnitSchema>;

/** What a rule says: fine with its value, or refused with a word for the program and one for the person. */
export type Verdict<Value, Reason extends string> =
  | { ok: true; value: Value }
  | { ok: false; reason: Reason; message: string };

/** Where one material is. Exactly one of these holds at any time. */
export type MaterialPlace =
  | { where: 'position'; unitId: string; position: number | null }
  | { where: 'on-loan'; loanId: string }
  | { where: 'in-hand'; personId: string }
  | { where: 'gone' };

export const inventoryScanSchema = z.object({
  id: z.string().min(1),
  sessionId: z.string().min(1),
  /** The code as read. */
  code: z.string().trim().min(1),
  unitId: z.string().min(1),
  position: z.int().min(0).nullable(),
  scannedById: z.string().min(1),
  scannedAt: z.iso.datetime({ offset: true }),
});
export type InventoryScan = z.infer<typeof inventoryScanSchema>;

export const temperatureUnits = ['C', 'F', 'K'] as const;
export const temperatureUnitSchema = z.enum(temperatureUnits);
export type TemperatureUnit = z.infer<typeof temperatureUnitSchema>;

/** One stay in a freezer against pests. Instants in ISO 8601; degrees Celsius, null where nobody noted it. */
export const freezerRunSchema = z.strictObject({
  startedAt: z.iso.datetime({ offset: true }),
  endedAt: z.iso.datetime({ offset: true }),
  temperatureC: z.number().min(-196).max(30).nullable(),
});
export type FreezerRun = z.infer<typeof freezerRunSchema>;

/** Query of a list of materials on their way to the shelf; without a state it answers the beginning of every state. */
export const processQuery = pageQuery.extend({
  state: z.string().max(30).optional(),
  q: z.string().trim().max(100).optional(),
});
export type ProcessQuery = z.output<typeof processQuery>;

export const stayShape = z.object({
  daysIn: z.number().int(),
  dueOn: z.string().nullable(),
  status: z.enum(STAY_STATUSES),
  overdueDays: z.number().int(),
});

/** A step that a material is in, or in which its process ended. */
export const processStep = z.object({
  id: z.uuid(),
  step: z.string(),
  name: z.string(),
  procedureId: z.string().nullable(),
  method: z.string().nullable(),
  startedAt: z.string(),
  by: z.string(),
});

export const processRow = z.object({
  id: z.uuid(),
  label: z.string(),
  kind: z.string(),
  birdId: z.uuid(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  state: z.string(),
  /** Null where nobody has begun a step yet: the state then counts from the day the material was made. */
  step: processStep.nullable(),
  stay: stayShape,
  place: z.string().nullable(),
  abilities: z.object({ advance: z.boolean() }),
});
export type ProcessRow = z.infer<typeof processRow>;

export const processGroup = z.object({
  state: z.string(),
  total: z.number().int(),
  overdue: z.number().int(),
  rows: z.array(processRow),
  next: z.string().nullable(),
});
export type ProcessGroup = z.infer<typeof processGroup>;
export const processGroups = z.object({ today: z.string(), groups: z.array(processGroup) });
export type ProcessGroups = z.infer<typeof processGroups>;

/** Materials to move on together, each with its latest step that the person saw, so that nothing is moved on twice. */
export const chosenMaterials = z
  .array(z.object({ materialId: z.uuid(), stepId: z.uuid().nullable() }))
  .min(1, 'Choose at least one.')
  .max(200);
export type ChosenMaterials = z.infer<typeof chosenMaterials>;

/** What can be said of every step that is begun. */
export const stepDetails = z.object({
  chosen: chosenMaterials,
  method: z.string().trim().max(200).nullish(),
  note: z.string().trim().max(2000).nullish(),
  /** The day it was done, where that was not today. */
  doneOn: givenDay().nullish(),
  temperatureC: z.number().min(-196).max(30).nullish(),
  /** Where it is put. */
  place: z.object({ unitId: z.uuid(), position: z.string().trim().min(1).max(20).nullish() }).nullish(),
});
export type StepDetails = z.infer<typeof stepDetails>;

export const movedMaterials = z.object({
  moved: z.array(z.object({ id: z.uuid(), label: z.string(), state: z.string(), step: z.string() })),
});
export type MovedMaterials = z.infer<typeof movedMaterials>;

export const placesQuery = z.object({
  /** Ids of the materials to be put away, with commas. */
  ids: z
    .string()
    .transform((text) => text.split(','))
    .pipe(z.array(z.uuid()).min(1).max(200)),
  q: z.string().trim().max(100).optional(),
});
export type PlacesQuery = z.output<typeof placesQuery>;

/** A unit where materials could be put, and why it is named. */
export const proposedPlace = z.object({
  unitId: z.uuid(),
  path: z.string(),
  code: z.string(),
  /** It has numbered positions, so that each material needs one. */
  positioned: z.boolean(),
  free: z.number().int().nullable(),
  reason: z.string().nullable(),
});
export type ProposedPlace = z.infer<typeof proposedPlace>;
export const proposedPlaces = z.object({ proposals: z.array(proposedPlace), found: z.array(proposedPlace) });
export type ProposedPlaces = z.infer<typeof proposedPlaces>;

/** One material: what it is, where it is, and all that happened to it. */
export const materialRecord = z.object({
  id: z.uuid(),
  label: z.string(),
  suffix: z.string(),
  kind: z.string(),
  state: z.string().nullable(),
  custody: z.string(),
  description: z.string().nullable(),
  madeAt: z.string(),
  place: z.object({ unitId: z.uuid(), path: z.string(), since: z.string() }).nullable(),
  parent: z.object({ id: z.uuid(), label: z.string(), kind: z.string() }).nullable(),
  loan: z.object({ id: z.uuid(), number: z.string() }).nullable(),
  bird: z.object({
    id: z.uuid(),
    number: z.string(),
    catalogueNumber: z.string().nullable(),
    scientificName: z.string(),
    commonName: z.string().nullable(),
    sex: z.string(),
  }),
  siblings: z.array(z.object({ id: z.uuid(), label: z.string(), kind: z.string() })),
  steps: z.array(
    processStep.extend({
      state: z.string(),
      temperatureC: z.number().nullable(),
      dueOn: z.string().nullable(),
      endedAt: z.string().nullable(),
      note: z.string().nullable(),
      /** Days from its beginning to its end, or until now. */
      days: z.number().int(),
    }),
  ),
  moves: z.array(
    z.object({
      id: z.uuid(),
      at: z.string(),
      by: z.string().nullable(),
      from: z.string().nullable(),
      to: z.string().nullable(),
      reason: z.string().nullable(),
    }),
  ),
  /** The collection's day now. */
  today: z.string(),
  abilities: z.object({ advance: z.boolean() }),
});
export type MaterialRecord = z.infer<typeof materialRecord>;
