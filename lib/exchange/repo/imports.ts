import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';
import type { ImportState } from '../schema';

export function findImports(tx: Tx, collectionId: string, { after, size }: PageQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return tx.importRun.findMany({
    where: {
      collectionId,
      OR:
        last === undefined
          ? undefined
          : [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }],
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}

export const findImport = (tx: Tx, collectionId: string, id: string) =>
  tx.importRun.findFirst({ where: { id, collectionId } });

export type FoundImport = NonNullable<Awaited<ReturnType<typeof findImport>>>;

export const insertImport = (
  tx: Tx,
  data: {
    collectionId: string;
    kind: string;
    fileName: string;
    fileId: string;
    summary: Prisma.InputJsonValue;
    startedById: string;
    createdAt: Date;
  },
) => tx.importRun.create({ data });

/** Moves an import on if it is in one of these states; 0 when it is not. */
export async function moveImport(
  tx: Tx,
  id: string,
  from: readonly ImportState[],
  to: ImportState,
  data: Omit<Prisma.ImportRunUpdateManyMutationInput, 'state'> & { fileId?: string | null } = {},
): Promise<number> {
  const { count } = await tx.importRun.updateMany({
    where: { id, state: { in: [...from] } },
    data: { ...data, state: to },
  });
  return count;
}

/** Says how far the work is, outside any transaction; answers the state, which may ask it to stop. */
export async function noteImportProgress(
  id: string,
  data: { rowsTotal?: number; rowsDone: number; rowsFailed: number },
): Promise<string> {
  return (await db().importRun.update({ where: { id }, data, select: { state: true } })).state;
}

export type RowToKeep = {
  runId: string;
  line: number;
  state: 'not-ready' | 'made' | 'failed';
  subjectId: string | null;
  number: string | null;
  cells: string[];
  values: Record<string, string>;
  errors: KeptError[];
  madeAt: Date | null;
};
export type KeptError = { column: string | null; reason: string; readings: string[] };

export const keepRows = (rows: readonly RowToKeep[]) =>
  db().importRow.createMany({ data: [...rows], skipDuplicates: true });

export const clearRows = (runId: string) => db().importRow.deleteMany({ where: { runId } });

/** Rows of an import in these states by line, a batch at a time. */
export async function* readRows(runId: string, states: readonly string[]) {
  let line = 0;
  for (;;) {
    const rows = await db().importRow.findMany({
      where: { runId, state: { in: [...states] }, line: { gt: line } },
      orderBy: { line: 'asc' },
      take: 500,
    });
    if (rows.length === 0) return;
    yield* rows;
    line = rows.at(-1)?.line ?? line;
  }
}

export const markRow = (runId: string, line: number, state: 'taken-back' | 'kept') =>
  db().importRow.update({ where: { runId_line: { runId, line } }, data: { state } });

export const countRows = (tx: Tx, runId: string, state: string) =>
  tx.importRow.count({ where: { runId, state } });

/** Of these numbers, those that a record of the house or an earlier import (not this one) has. */
export async function findKnownNumbers(
  collectionId: string,
  runId: string,
  fieldId: string,
  numbers: string[],
): Promise<Set<string>> {
  const imported = await db().$queryRaw<{ number: string }[]>`
    SELECT r."values" ->> ${fieldId} AS number FROM "ImportRow" r JOIN "ImportRun" i ON i.id = r."runId"
    WHERE i."collectionId" = ${collectionId}::uuid AND r."runId" <> ${runId}::uuid AND r.state IN ('made', 'kept')
      AND r."values" ->> ${fieldId} = ANY(${numbers})`;
  const where = { collectionId, number: { in: numbers } };
  const own =
    fieldId === 'catalogNumber'
      ? await db().catalogueEntry.findMany({ where, select: { number: true } })
      : fieldId === 'salvageNumber'
        ? await db().salvageRecord.findMany({ where, select: { number: true } })
        : (
            await db().benchRecord.findMany({
              where: { collectionId, prepNumber: { in: numbers } },
              select: { prepNumber: true },
            })
          ).map(({ prepNumber }) => ({ number: prepNumber }));
  return new Set([...imported, ...own].map((row) => row.number));
}

/** Where an imported record stands, and whether a person touched it after it was made. */
export async function findMadeRecord(subjectId: string, madeAt: Date) {
  const record = await db().salvageRecord.findUnique({
    where: { id: subjectId },
    select: { number: true, state: true, version: true, accessionId: true, bird: { select: { id: true } } },
  });
  if (record === null) return null;
  const touched = await db().auditEvent.findFirst({
    where: { subjectId, actorId: { not: null }, at: { gt: madeAt } },
    select: { actorName: true },
    orderBy: { seq: 'asc' },
  });
  return { ...record, touchedBy: touched?.actorName ?? null };
}

export const namePerson = async (tx: Tx, id: string): Promise<string> =>
  (await tx.person.findUnique({ where: { id }, select: { name: true } }))?.name ?? 'unknown';
