import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { gridSchema, preservationKindSchema, storageUnitKindSchema } from './schema';

/** Requests and answers of the storage routes. */
const celsius = z.number().min(-273.15).max(100);
const reason = z.string().trim().max(500).nullish();
const version = z.int32();

export const unitRow = z.object({
  id: z.uuid(),
  parentId: z.uuid().nullable(),
  parentPosition: z.string().nullable(),
  kind: storageUnitKindSchema,
  name: z.string(),
  code: z.string(),
  path: z.string(),
  grid: gridSchema.nullable(),
  capacity: z.int().nullable(),
  targetTempC: z.number().nullable(),
  alarmAboveC: z.number().nullable(),
  allowedPreservations: z.array(preservationKindSchema),
  active: z.boolean(),
  /** Materials and units that lie directly in it, and for how many it has room; null: no limit. */
  load: z.int(),
  places: z.int().nullable(),
  /** Materials in it at all depths. */
  materials: z.int(),
  version,
});
export type UnitRow = z.infer<typeof unitRow>;

export const storageTree = z.object({
  units: z.array(unitRow),
  abilities: z.object({ manage: z.boolean(), move: z.boolean(), count: z.boolean() }),
});
export type StorageTreeAnswer = z.infer<typeof storageTree>;

const unitSettings = z.object({
  name: z.string().trim().min(1, 'Give it a name.').max(120),
  grid: gridSchema.nullable(),
  capacity: z.int().min(1).max(1_000_000).nullable(),
  targetTempC: celsius.nullable(),
  alarmAboveC: celsius.nullable(),
  allowedPreservations: z.array(preservationKindSchema).max(6),
});
const oneLimit = (unit: { grid?: unknown; capacity?: unknown }) =>
  unit.grid === null || unit.grid === undefined || unit.capacity === null || unit.capacity === undefined;
const oneLimitMessage = {
  error: () => say('A unit with a grid takes its capacity from the grid: leave the capacity empty.'),
  path: ['capacity'],
};
const code = z
  .string()
  .trim()
  .regex(/^[\x21-\x7e]{1,40}$/, 'A code has plain letters, figures and signs only, without spaces.');

export const makeUnitsRequest = unitSettings
  .extend({
    // Only here: a change that says nothing of a setting leaves it as it is.
    grid: unitSettings.shape.grid.default(null),
    capacity: unitSettings.shape.capacity.default(null),
    targetTempC: celsius.nullable().default(null),
    alarmAboveC: celsius.nullable().default(null),
    allowedPreservations: unitSettings.shape.allowedPreservations.default([]),
    parentId: z.uuid().nullable(),
    /** Position in the parent's grid; left out, the next free ones are taken. */
    parentPosition: z.string().trim().max(12).nullish(),
    kind: storageUnitKindSchema,
    /** What is already on its label; left out, a running code is given. */
    code: code.nullish(),
    /** How many alike; their names are numbered on. */
    count: z.int().min(1).max(200).default(1),
  })
  .refine(oneLimit, oneLimitMessage)
  .refine((unit) => unit.count === 1 || (!unit.code && !unit.parentPosition), {
    message: 'Several units at once get their codes and positions by themselves.',
    path: ['count'],
  });
export type MakeUnitsRequest = z.infer<typeof makeUnitsRequest>;
export const madeUnits = z.object({ units: z.array(unitRow) });

export const changeUnitRequest = unitSettings
  .extend({ code, active: z.boolean() })
  .partial()
  .extend({ version, reason })
  .refine(oneLimit, oneLimitMessage);
export type ChangeUnitRequest = z.infer<typeof changeUnitRequest>;

export const moveUnitRequest = z.object({
  parentId: z.uuid().nullable(),
  position: z.string().trim().max(12).nullish(),
  version,
  reason,
});
export type MoveUnitRequest = z.infer<typeof moveUnitRequest>;

export const boxLook = z.enum(['stored', 'partly-used', 'on-loan', 'missing']);

export const occupant = z.object({
  materialId: z.uuid(),
  birdId: z.uuid(),
  label: z.string(),
  code: z.string(),
  mark: z.string(),
  look: boxLook,
  /** Its name and its index along rows; null in a unit without positions. */
  position: z.string().nullable(),
  index: z.int().nullable(),
  kind: z.string(),
  state: z.string().nullable(),
  custody: z.string(),
  scientificName: z.string(),
  what: z.string(),
  placedAt: z.string().nullable(),
  mayMove: z.boolean(),
});
export type Occupant = z.infer<typeof occupant>;

export const unitRecord = unitRow.extend({
  around: z.array(z.object({ id: z.uuid(), name: z.string(), kind: storageUnitKindSchema })),
  /** What holds here once the units around have been asked. */
  conditions: z.object({
    temperatureC: z.number().nullable(),
    preservations: z.array(preservationKindSchema).nullable(),
    freezerId: z.uuid().nullable(),
  }),
  children: z.array(unitRow),
  occupants: z.array(occupant),
  /** What is out on loan or missing and had its place here. */
  away: z.array(occupant),
  openCountId: z.uuid().nullable(),
  abilities: z.object({ manage: z.boolean(), move: z.boolean(), moveUnit: z.boolean(), count: z.boolean() }),
});
export type UnitRecord = z.infer<typeof unitRecord>;

/** One material as a scan finds it. */
export const materialSpot = z.object({
  materialId: z.uuid(),
  birdId: z.uuid(),
  label: z.string(),
  code: z.string(),
  kind: z.string(),
  state: z.string().nullable(),
  custody: z.string(),
  scientificName: z.string(),
  unitId: z.uuid().nullable(),
  position: z.string().nullable(),
  place: z.string().nullable(),
  /** Where it lay before it was lent or went missing. */
  lastPlace: z.string().nullable(),
  mayMove: z.boolean(),
});
export type MaterialSpot = z.infer<typeof materialSpot>;

export const scanQuery = z.object({ code: z.string().trim().min(1, 'Scan or type a code.').max(120) });
export const scanAnswer = z.discriminatedUnion('found', [
  z.object({
    found: z.literal('unit'),
    unit: unitRow.pick({ id: true, name: true, kind: true, code: true, path: true, grid: true }),
  }),
  z.object({ found: z.literal('material'), material: materialSpot }),
  z.object({ found: z.literal('bird'), bird: z.object({ id: z.uuid(), number: z.string() }) }),
]);
export type ScanAnswer = z.infer<typeof scanAnswer>;

export const moveMaterialsRequest = z.object({
  moves: z
    .array(
      z
        .object({
          materialId: z.uuid().optional(),
          code: z.string().trim().min(1).max(120).optional(),
          /** null: into somebody's hands. */
          to: z.object({ unitId: z.uuid(), position: z.string().trim().max(12).nullish() }).nullable(),
        })
        .refine((move) => (move.materialId === undefined) !== (move.code === undefined), {
          message: 'Name the material by its id or by its code.',
          path: ['code'],
        }),
    )
    .min(1)
    .max(500),
  reason,
});
export type MoveMaterialsRequest = z.infer<typeof moveMaterialsRequest>;
export const movedMaterials = z.object({ materials: z.array(materialSpot) });

export const spaceQuery = z.object({
  text: z.string().trim().min(1, 'Say how many vials, for example "40 vials".').max(200),
  preservation: preservationKindSchema,
});
export const spaceAnswer = z.object({
  isEven: z.boolean(),
  boxes: z.array(z.object({ boxId: z.uuid(), pathName: z.string(), positions: z.array(z.string()) })),
});
export type SpaceAnswer = z.infer<typeof spaceAnswer>;

export const materialMoves = z.object({
  moves: z.array(
    z.object({
      id: z.uuid(),
      from: z.string().nullable(),
      to: z.string().nullable(),
      reason: z.string().nullable(),
      withUnit: z.boolean(),
      at: z.string(),
      by: z.string().nullable(),
    }),
  ),
});
export type MaterialMoves = z.infer<typeof materialMoves>;
