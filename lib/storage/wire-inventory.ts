import { z } from 'zod';
import { gridSchema, storageUnitKindSchema } from './schema';

/** Requests and answers of counting what is there. */
export const openCountRequest = z.object({ unitId: z.uuid() });

export const scansRequest = z.object({
  scans: z
    .array(
      z.object({
        /** Given by the device that read it: sent twice, it counts once. */
        id: z.uuid(),
        code: z.string().trim().min(1).max(120),
        unitId: z.uuid(),
        position: z.string().trim().max(12).nullish(),
        scannedAt: z.iso.datetime({ offset: true }),
      }),
    )
    .min(1)
    .max(200),
});
export type ScansRequest = z.infer<typeof scansRequest>;

const spot = z.object({ unitId: z.uuid(), place: z.string() });

export const countFinding = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('missing'), materialId: z.uuid(), label: z.string(), expected: spot }),
  z.object({
    kind: z.literal('misplaced'),
    materialId: z.uuid(),
    label: z.string(),
    expected: spot,
    found: spot,
  }),
  z.object({
    kind: z.literal('unexpected'),
    materialId: z.uuid().nullable(),
    label: z.string(),
    found: spot,
    /** Where the book has it, or why it should not be here; null: nobody knows the code. */
    book: z.string().nullable(),
    /** It can be booked where it was found. */
    mayRecord: z.boolean(),
  }),
  z.object({ kind: z.literal('two-in-one-position'), labels: z.array(z.string()), found: spot }),
]);
export type CountFinding = z.infer<typeof countFinding>;

export const countRow = z.object({
  id: z.uuid(),
  unitId: z.uuid(),
  unitPath: z.string(),
  startedAt: z.string(),
  startedBy: z.string(),
  closedAt: z.string().nullable(),
  scans: z.int(),
  /** Numbers of findings when it was closed. */
  outcome: z
    .object({
      expected: z.int(),
      confirmed: z.int(),
      missing: z.int(),
      misplaced: z.int(),
      unexpected: z.int(),
      shared: z.int(),
    })
    .nullable(),
});
export type CountRow = z.infer<typeof countRow>;
export const countRows = z.object({ rows: z.array(countRow) });

export const countRecord = countRow.extend({
  units: z.array(
    z.object({
      id: z.uuid(),
      name: z.string(),
      code: z.string(),
      path: z.string(),
      kind: storageUnitKindSchema,
      grid: gridSchema.nullable(),
      expected: z.int(),
    }),
  ),
  expected: z.int(),
  seen: z.int(),
  confirmed: z.int(),
  people: z.array(z.object({ name: z.string(), scans: z.int() })),
  lastScans: z.array(
    z.object({
      id: z.uuid(),
      code: z.string(),
      place: z.string(),
      by: z.string(),
      at: z.string(),
      known: z.boolean(),
    }),
  ),
  findings: z.array(countFinding),
  /** Findings beyond those listed. */
  moreFindings: z.int(),
  abilities: z.object({ scan: z.boolean(), close: z.boolean(), resolve: z.boolean() }),
});
export type CountRecord = z.infer<typeof countRecord>;

export const resolveRequest = z.object({
  materialId: z.uuid(),
  act: z.enum(['mark-missing', 'record-where-found']),
});
export type ResolveRequest = z.infer<typeof resolveRequest>;
