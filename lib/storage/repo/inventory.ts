import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { withPlace } from './materials';

export const findOpenSession = (tx: Tx, unitId: string) =>
  tx.inventorySession.findFirst({ where: { unitId, closedAt: null }, select: { id: true } });

export const findSession = (tx: Tx, collectionId: string, id: string) =>
  tx.inventorySession.findFirst({
    where: { id, collectionId },
    include: { _count: { select: { scans: true } } },
  });
export type SessionRow = NonNullable<Awaited<ReturnType<typeof findSession>>>;

/** Open counts first, then the latest. */
export const findSessions = (tx: Tx, collectionId: string) =>
  tx.inventorySession.findMany({
    where: { collectionId },
    include: { _count: { select: { scans: true } } },
    orderBy: [{ closedAt: { sort: 'desc', nulls: 'first' } }, { startedAt: 'desc' }],
    take: 30,
  });

export const insertSession = (
  tx: Tx,
  data: { collectionId: string; unitId: string; startedById: string; startedAt: Date },
) => tx.inventorySession.create({ data });

/** Which of these scans arrived before. */
export async function findKnownScans(tx: Tx, ids: readonly string[]): Promise<Set<string>> {
  const rows = await tx.inventoryScan.findMany({ where: { id: { in: [...ids] } }, select: { id: true } });
  return new Set(rows.map((row) => row.id));
}

/** Scans that were sent before are left as they are; answers how many are new. */
export async function insertScans(tx: Tx, data: Prisma.InventoryScanCreateManyInput[]): Promise<number> {
  const { count } = await tx.inventoryScan.createMany({ data, skipDuplicates: true });
  return count;
}

/** Holds the session open while scans are written; false when it is closed already. */
export async function holdOpen(tx: Tx, id: string): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT id FROM "InventorySession" WHERE id = ${id}::uuid AND "closedAt" IS NULL FOR SHARE`;
  return rows.length > 0;
}

export async function closeSession(
  tx: Tx,
  id: string,
  data: { closedAt: Date; closedById: string | null; outcome: Prisma.InputJsonValue },
): Promise<number> {
  const { count } = await tx.inventorySession.updateMany({ where: { id, closedAt: null }, data });
  return count;
}

export const findScans = (tx: Tx, sessionId: string) =>
  tx.inventoryScan.findMany({ where: { sessionId }, orderBy: [{ scannedAt: 'asc' }, { id: 'asc' }] });

/** What the book has in these units. */
export const findExpected = (tx: Tx, unitIds: readonly string[]) =>
  tx.material.findMany({ where: { placement: { unitId: { in: [...unitIds] } } }, include: withPlace });

export const findUnitNames = (tx: Tx, ids: readonly string[]) =>
  tx.storageUnit.findMany({ where: { id: { in: [...ids] } }, select: { id: true, name: true, path: true } });
