import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { takeTurns } from '@/lib/platform/tx';
import { parsePosition } from '../positions';
import type { PositionScheme, PreservationKind, StorageUnit, StorageUnitKind } from '../schema';

export type UnitRow = Prisma.StorageUnitGetPayload<object>;

/** A row as the rules see it; `parent` gives the grid in which its own position is counted. */
export function toUnit(row: UnitRow, parent: UnitRow | undefined): StorageUnit {
  const around = parent === undefined ? null : gridOf(parent);
  const at =
    around !== null && row.parentPosition !== null ? parsePosition(around, row.parentPosition) : null;
  return {
    id: row.id,
    parentId: parent === undefined ? null : row.parentId,
    parentPosition: at?.ok ? at.value : null,
    kind: row.kind as StorageUnitKind,
    name: row.name,
    code: row.code,
    grid: gridOf(row),
    capacity: row.capacity,
    targetTemperatureC: row.targetTempC,
    allowedPreservations:
      row.allowedPreservations.length === 0 ? null : (row.allowedPreservations as PreservationKind[]),
  };
}

export function gridOf(row: Pick<UnitRow, 'rows' | 'columns' | 'naming'>) {
  if (row.rows === null || row.columns === null) return null;
  return { rows: row.rows, columns: row.columns, scheme: (row.naming ?? 'row-letter') as PositionScheme };
}

/** All rows as the rules see them. */
export function toUnits(rows: readonly UnitRow[]): StorageUnit[] {
  const byId = new Map(rows.map((row) => [row.id, row]));
  return rows.map((row) => toUnit(row, row.parentId === null ? undefined : byId.get(row.parentId)));
}

export const findUnits = (tx: Tx, collectionId: string) =>
  tx.storageUnit.findMany({ where: { collectionId }, orderBy: { path: 'asc' } });

const aroundOf = (collectionId: string, id: string) => Prisma.sql`around AS (
    SELECT id, "parentId", 0 AS depth FROM "StorageUnit"
      WHERE id = ${id}::uuid AND "collectionId" = ${collectionId}::uuid
    UNION ALL
    SELECT u.id, u."parentId", a.depth + 1 FROM "StorageUnit" u JOIN around a ON u.id = a."parentId"
  )`;

/** One by one: of a walk up the tree the planner expects so many that it would read every unit there is. */
const UNITS_FOUND = Prisma.sql`CROSS JOIN LATERAL (SELECT * FROM "StorageUnit" WHERE id = found.id OFFSET 0) u`;

/** A unit and all around it, outermost first; empty when the collection has no such unit. */
export const findUnitWithAround = (tx: Tx, collectionId: string, id: string): Promise<UnitRow[]> =>
  tx.$queryRaw<UnitRow[]>`
    WITH RECURSIVE ${aroundOf(collectionId, id)}
    SELECT u.* FROM around found ${UNITS_FOUND} ORDER BY found.depth DESC`;

/** Ids of a unit and of everything that stands in it, at all depths. */
export async function findInside(tx: Tx, id: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE inside AS (
      SELECT id FROM "StorageUnit" WHERE id = ${id}::uuid
      UNION SELECT u.id FROM "StorageUnit" u JOIN inside i ON u."parentId" = i.id
    ) SELECT id FROM inside`;
  return rows.map((row) => row.id);
}

/** With how many materials lie directly in it; of the unit that was asked for, also the count that is going on there. */
export type LoadedRow = UnitRow & { materials: number; openCountId: string | null };

/**
 * A unit and all around it, outermost first, then all that stands in it by path; nothing when the collection has no such
 * unit.
 */
export const findUnitsOnPath = (tx: Tx, collectionId: string, id: string): Promise<LoadedRow[]> =>
  tx.$queryRaw<LoadedRow[]>`
    WITH RECURSIVE ${aroundOf(collectionId, id)}, inside AS (
      SELECT u.id FROM "StorageUnit" u JOIN around a ON u."parentId" = a.id AND a.depth = 0
      UNION SELECT u.id FROM "StorageUnit" u JOIN inside i ON u."parentId" = i.id
    )
    SELECT u.*, (SELECT count(*)::int FROM "Placement" WHERE "unitId" = u.id) AS materials,
      CASE WHEN found.depth = 0 THEN
        (SELECT id FROM "InventorySession" WHERE "unitId" = u.id AND "closedAt" IS NULL) END AS "openCountId"
    FROM (SELECT id, depth FROM around UNION ALL SELECT id, -1 FROM inside) found ${UNITS_FOUND}
    ORDER BY found.depth DESC, u.path`;

/** How many materials lie directly in each unit of the collection. */
export async function countMaterials(tx: Tx, collectionId: string): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ unitId: string; count: number }[]>`
    SELECT p."unitId", count(*)::int AS count FROM "Placement" p JOIN "StorageUnit" u ON u.id = p."unitId"
    WHERE u."collectionId" = ${collectionId}::uuid GROUP BY p."unitId"`;
  return new Map(rows.map(({ unitId, count }) => [unitId, count]));
}

/** The tree changes one act at a time: two moves could otherwise put two units into each other. */
export async function lockTree(tx: Tx, collectionId: string): Promise<void> {
  await takeTurns(tx, `storage tree ${collectionId}`);
}

/** Counts what lies directly in a unit without positions; the lock makes simultaneous arrivals wait. */
export async function countInside(tx: Tx, unitId: string): Promise<number> {
  await tx.$queryRaw`SELECT id FROM "StorageUnit" WHERE id = ${unitId}::uuid FOR UPDATE`;
  const materials = await tx.placement.count({ where: { unitId } });
  const units = await tx.storageUnit.count({ where: { parentId: unitId } });
  return materials + units;
}

export const insertUnits = (tx: Tx, data: Prisma.StorageUnitCreateManyInput[]) =>
  tx.storageUnit.createManyAndReturn({ data });

/** Changes a unit if its version is still the one the person saw; 0 when it is not. */
export async function updateUnit(
  tx: Tx,
  where: { id: string; version: number },
  data: Prisma.StorageUnitUncheckedUpdateManyInput,
): Promise<number> {
  const { count } = await tx.storageUnit.updateMany({
    where,
    data: { ...data, version: { increment: 1 } },
  });
  return count;
}

/** Writes the path of a unit and of everything in it anew. */
export async function rewritePaths(
  tx: Tx,
  input: { id: string; from: string; to: string; inside: readonly string[] },
): Promise<void> {
  const { id, from, to, inside } = input;
  await tx.storageUnit.update({ where: { id }, data: { path: to } });
  const others = inside.filter((one) => one !== id);
  await tx.$executeRaw`UPDATE "StorageUnit" SET path = ${to} || substr(path, ${from.length + 1}::int)
    WHERE id = ANY(${others}::uuid[])`;
}

/** The next running numbers for codes of units: taken in the transaction, so none is lost or used twice. */
export async function takeUnitNumbers(tx: Tx, collectionId: string, count: number): Promise<number[]> {
  const [row] = await tx.$queryRaw<{ next: number }[]>`
    INSERT INTO "NumberSequence" ("collectionId", kind, scope, next)
      VALUES (${collectionId}::uuid, 'storage-unit', '', ${count + 1})
    ON CONFLICT ("collectionId", kind, scope) DO UPDATE SET next = "NumberSequence".next + ${count}
    RETURNING next`;
  const after = row?.next ?? count + 1;
  return Array.from({ length: count }, (_, index) => after - count + index);
}

export const findUnitByCode = (tx: Tx, collectionId: string, codes: readonly string[]) =>
  tx.storageUnit.findFirst({ where: { collectionId, code: { in: [...codes] } } });

/** Which of these codes units carry already. */
export async function findUnitCodes(
  tx: Tx,
  collectionId: string,
  codes: readonly string[],
): Promise<string[]> {
  const rows = await tx.storageUnit.findMany({
    where: { collectionId, code: { in: [...codes] } },
    select: { code: true },
  });
  return rows.map((row) => row.code);
}

export const findPlacedPositions = (tx: Tx, unitIds: readonly string[]) =>
  tx.placement.findMany({
    where: { unitId: { in: [...unitIds] }, position: { not: null } },
    select: { unitId: true, position: true },
  });
