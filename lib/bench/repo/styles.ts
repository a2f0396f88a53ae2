import 'server-only';
import type { PreparationStyle } from '@/lib/bench/styles';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

/** The newest saved version of each style that the collection has changed. */
export const findSavedStyles = (tx: Tx, collectionId: string) =>
  tx.benchStyle.findMany({
    where: { collectionId },
    distinct: ['styleId'],
    orderBy: [{ styleId: 'asc' }, { version: 'desc' }],
  });

export const findSavedStyle = (tx: Tx, collectionId: string, styleId: string, version?: number) =>
  tx.benchStyle.findFirst({ where: { collectionId, styleId, version }, orderBy: { version: 'desc' } });

export async function insertStyle(
  tx: Tx,
  collectionId: string,
  style: PreparationStyle,
  saved: { by: string; at: Date },
): Promise<void> {
  await tx.benchStyle.create({
    data: {
      collectionId,
      styleId: style.id,
      version: style.version,
      data: style as Prisma.InputJsonValue,
      savedById: saved.by,
      savedAt: saved.at,
    },
  });
}

export async function findReferenceTables(tx: Tx, collectionId: string) {
  return tx.$queryRaw<{ id: string; title: string; source: string; loadedAt: Date; taxa: number }[]>`
    SELECT t.id, t.title, t.source, t."loadedAt", count(DISTINCT m."scientificName")::int AS taxa
    FROM "ReferenceTable" t LEFT JOIN "ReferenceMeasure" m ON m."tableId" = t.id
    WHERE t."collectionId" = ${collectionId}::uuid GROUP BY t.id ORDER BY t."loadedAt" DESC`;
}

export const findReferenceTable = (tx: Tx, collectionId: string, id: string) =>
  tx.referenceTable.findFirst({ where: { id, collectionId } });

/** Puts a table in the place of one with the same title. */
export async function replaceReferenceTable(
  tx: Tx,
  table: { collectionId: string; title: string; source: string; loadedById: string; loadedAt: Date },
  measures: readonly { scientificName: string; field: string; value: number }[],
): Promise<string> {
  await tx.referenceTable.deleteMany({ where: { collectionId: table.collectionId, title: table.title } });
  const made = await tx.referenceTable.create({ data: table });
  await tx.referenceMeasure.createMany({ data: measures.map((one) => ({ ...one, tableId: made.id })) });
  return made.id;
}

export const deleteReferenceTable = (tx: Tx, id: string) => tx.referenceTable.delete({ where: { id } });
