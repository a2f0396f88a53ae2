import 'server-only';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import type { KeptTaxon, NameInUse } from '../carry-over';
import type { ChecklistProblem, ChecklistTaxon } from '../checklist';

export const findChecklists = (tx: Tx) =>
  tx.checklist.findMany({ orderBy: [{ importedAt: 'desc' }, { id: 'desc' }] });
export const findChecklist = (tx: Tx, id: string) => tx.checklist.findUnique({ where: { id } });
export const findCurrent = (tx: Tx) => tx.checklist.findFirst({ where: { current: true } });

export const insertChecklist = (tx: Tx, data: Prisma.ChecklistUncheckedCreateInput) =>
  tx.checklist.create({ data });

/** Says how far the reading is: outside any transaction, so that the page sees it. */
export const noteProgress = (
  id: string,
  data: { bytesRead: number; rowsRead: number; rowsLeftOut: number },
) => db().checklist.updateMany({ where: { id, state: 'reading' }, data });

export const endReading = (
  tx: Tx,
  id: string,
  data: {
    state: 'ready' | 'failed';
    rowsRead?: number;
    rowsLeftOut?: number;
    problems?: ChecklistProblem[];
    failure?: string;
  },
) =>
  tx.checklist.updateMany({
    where: { id, state: 'reading' },
    data: { ...data, problems: data.problems as Prisma.InputJsonValue | undefined, fileId: null },
  });

export const clearTaxa = (tx: Tx, checklistId: string) => tx.taxon.deleteMany({ where: { checklistId } });

export type TaxonToKeep = ChecklistTaxon & { sortOrder: number; acceptedId: string | null };

/** Writes taxa in one statement and answers their ids by key and name. */
export function insertTaxa(tx: Tx, checklistId: string, taxa: readonly TaxonToKeep[]) {
  return tx.taxon.createManyAndReturn({
    data: taxa.map((taxon) => ({
      checklistId,
      sourceKey: taxon.taxonId,
      scientificName: taxon.scientificName,
      authorship: taxon.authorship,
      rank: taxon.rank,
      commonName: taxon.vernacularName,
      orderName: taxon.order,
      familyName: taxon.family,
      genus: /^\S+ /.test(taxon.scientificName) ? (taxon.scientificName.split(' ')[0] ?? null) : null,
      acceptedId: taxon.acceptedId,
      sensitive: taxon.sensitive,
      sortOrder: taxon.sortOrder,
    })),
    select: { id: true, sourceKey: true, scientificName: true },
  });
}

export const findKeptTaxa = (tx: Tx, checklistId: string): Promise<(KeptTaxon & { sensitive: boolean })[]> =>
  tx.taxon.findMany({
    where: { checklistId },
    select: {
      id: true,
      sourceKey: true,
      scientificName: true,
      rank: true,
      familyName: true,
      acceptedId: true,
      sensitive: true,
    },
  });

export async function countByRank(tx: Tx, checklistId: string): Promise<Record<string, number>> {
  const rows = await tx.taxon.groupBy({ by: ['rank'], where: { checklistId }, _count: true });
  return Object.fromEntries(rows.map((row) => [row.rank, row._count]));
}

/** Names that salvage records, birds and determinations carry and that are not of the given checklist. */
export function findNamesInUse(
  tx: Tx,
  exceptChecklistId: string,
): Promise<(NameInUse & { commonName: string | null; checklistId: string; birds: number })[]> {
  return tx.$queryRaw`
    WITH used AS (
      SELECT "taxonId" AS id FROM "SalvageRecord" UNION SELECT "taxonId" FROM "Bird"
      UNION SELECT "taxonId" FROM "Determination" WHERE current
    )
    SELECT t.id AS "taxonId", t."scientificName" AS name, t.rank, t."commonName", t."checklistId",
      (SELECT count(*)::int FROM "Bird" b WHERE b."taxonId" = t.id) AS birds
    FROM used JOIN "Taxon" t ON t.id = used.id WHERE t."checklistId" <> ${exceptChecklistId}::uuid
    ORDER BY t."sortOrder", t.id`;
}

export const nameTaxa = (tx: Tx, ids: readonly string[]) =>
  tx.taxon.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, scientificName: true, commonName: true, checklistId: true },
  });

/** Makes the checklist the current one; 0 when it is not whole, or somebody was faster. */
export async function switchCurrent(tx: Tx, id: string, at: Date): Promise<number> {
  await tx.checklist.updateMany({ where: { current: true, id: { not: id } }, data: { current: false } });
  const { count } = await tx.checklist.updateMany({
    where: { id, state: 'ready', current: false },
    data: { current: true, currentFrom: at },
  });
  return count;
}

export const markSensitive = (tx: Tx, ids: readonly string[]) =>
  tx.taxon.updateMany({ where: { id: { in: [...ids] } }, data: { sensitive: true } });

/** Points every record of one taxon to another; answers the birds whose name changed. Who determined it stays said. */
export async function moveRecords(
  tx: Tx,
  fromId: string,
  toId: string,
): Promise<{ id: string; collectionId: string }[]> {
  await tx.$executeRaw`UPDATE "SalvageRecord" SET "taxonId" = ${toId}::uuid WHERE "taxonId" = ${fromId}::uuid`;
  await tx.$executeRaw`UPDATE "Determination" SET "taxonId" = ${toId}::uuid WHERE "taxonId" = ${fromId}::uuid AND current`;
  return tx.$queryRaw`UPDATE "Bird" SET "taxonId" = ${toId}::uuid WHERE "taxonId" = ${fromId}::uuid
    RETURNING id, "collectionId"`;
}
