import 'server-only';
import { z } from 'zod';
import { db } from '@/lib/platform/db';
import { readCursor } from '@/lib/platform/paging';
import type { ChainRow } from './rules';
import type { HistoryQuery } from './schema';

/** One more event than the page holds, newest first. */
export function findEvents(collectionId: string, query: HistoryQuery) {
  const before =
    query.after === undefined ? undefined : BigInt(readCursor(query.after, z.tuple([z.number()]))[0]);
  return db().auditEvent.findMany({
    where: {
      collectionId,
      subjectType: query.subjectType,
      subjectId: query.subjectId,
      birdId: query.birdId,
      seq: before === undefined ? undefined : { lt: before },
    },
    orderBy: { seq: 'desc' },
    take: query.size + 1,
  });
}

const BATCH = 5_000;

/** Every row of a chain in order, in batches, as text exactly as the database digested it. */
export async function* readChain(collectionId: string): AsyncGenerator<ChainRow> {
  for (let after = 0; ; ) {
    const rows = await db().$queryRaw<(Omit<ChainRow, 'seq'> & { seq: bigint })[]>`
      SELECT seq, "collectionId"::text, to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS at,
        "actorId"::text, "actorName", "birdId"::text, "subjectType", "subjectId"::text, kind,
        payload::text AS "payloadText", reason, "requestId", "previousDigest", digest
      FROM "AuditEvent" WHERE "collectionId" = ${collectionId}::uuid AND seq > ${after}
      ORDER BY seq LIMIT ${BATCH}`;
    for (const row of rows) yield { ...row, seq: Number(row.seq) };
    const last = rows.at(-1);
    if (last === undefined || rows.length < BATCH) return;
    after = Number(last.seq);
  }
}

export async function readHead(collectionId: string): Promise<{ seq: number; digest: string }> {
  const head = await db().auditHead.findUnique({ where: { collectionId } });
  return head === null ? { seq: 0, digest: '' } : { seq: Number(head.seq), digest: head.digest };
}

export const listCollectionIds = async (): Promise<string[]> =>
  (await db().collection.findMany({ select: { id: true } })).map(({ id }) => id);
