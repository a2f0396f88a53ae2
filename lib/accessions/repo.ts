import 'server-only';
import { z } from 'zod';
import { dateColumn, now } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';
import type { AccessionListQuery, AccessionRequest } from './schema';

/** One more accession than the page holds, newest first. */
export function findAccessions(collectionId: string, { q, after, size }: AccessionListQuery) {
  const before = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return db().accession.findMany({
    where: {
      collectionId,
      AND: [
        q === undefined
          ? {}
          : {
              OR: [
                { number: { contains: q, mode: 'insensitive' } },
                { source: { contains: q, mode: 'insensitive' } },
              ],
            },
        before === undefined
          ? {}
          : {
              OR: [{ createdAt: { lt: before[0] } }, { createdAt: before[0], id: { lt: before[1] } }],
            },
      ],
    },
    include: { _count: { select: { salvages: true } } },
    relationLoadStrategy: 'query',
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}

export function findAccession(tx: Tx, collectionId: string, id: string) {
  return tx.accession.findFirst({
    where: { id, collectionId },
    include: {
      salvages: {
        include: { taxon: true, permit: true, bird: { select: { id: true } } },
        orderBy: { number: 'asc' },
      },
    },
  });
}

/** Locks the salvage records of a lot, in one order, so that two accessions cannot take the same bird. */
export async function lockLots(tx: Tx, collectionId: string, salvageIds: readonly string[]) {
  await tx.$queryRaw`SELECT id FROM "SalvageRecord" WHERE id = ANY(${[...salvageIds]}::uuid[])
    AND "collectionId" = ${collectionId}::uuid ORDER BY id FOR UPDATE`;
  return tx.salvageRecord.findMany({
    where: { id: { in: [...salvageIds] }, collectionId },
    include: { accession: true, holds: { where: { liftedAt: null } }, bird: { select: { id: true } } },
    orderBy: { number: 'asc' },
  });
}

export async function insertAccession(
  tx: Tx,
  input: AccessionRequest & { collectionId: string; number: string; createdById: string },
) {
  const { salvageIds, receivedOn, agreement, remarks, ...rest } = input;
  const made = await tx.accession.create({
    data: {
      ...rest,
      createdAt: now(),
      receivedOn: dateColumn(receivedOn),
      agreement: agreement ?? null,
      remarks: remarks ?? null,
    },
  });
  await tx.salvageRecord.updateMany({
    where: { id: { in: salvageIds } },
    data: { accessionId: made.id, version: { increment: 1 } },
  });
  return made;
}

/** Changes an accession if its version is still the one the person saw; 0 when it is not. */
export async function updateAccession(
  tx: Tx,
  id: string,
  version: number,
  data: { source?: string; agreement?: string | null; remarks?: string | null },
): Promise<number> {
  const { count } = await tx.accession.updateMany({
    where: { id, version },
    data: { ...data, version: { increment: 1 } },
  });
  return count;
}

/** One more accepted, unaccessioned salvage record than the page holds, oldest first. */
export function findCandidates(collectionId: string, { after, size }: PageQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([z.string()]))[0];
  return db().salvageRecord.findMany({
    where: {
      collectionId,
      state: 'accepted',
      accessionId: null,
      number: last === undefined ? undefined : { gt: last },
    },
    include: {
      taxon: true,
      accession: true,
      holds: { where: { liftedAt: null } },
      bird: { select: { id: true } },
    },
    relationLoadStrategy: 'query',
    orderBy: { number: 'asc' },
    take: size + 1,
  });
}
