import { z } from 'zod';

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
