import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { readCursor } from '@/lib/platform/paging';
import type { ChainRow } from './rules';
import type { HistoryQuery } from './schema';

/** One more event than the page holds, newest first. */
export function findEvents(collectionId: string, query: HistoryQuery) {
  const before =
    query.after === undefined ? undefined : BigInt(readCursor(query.after, z.tuple([z.int()]))[0]);
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

/** Whether a person's look at a record is in the history already since an instant. */
export async function hasLooked(look: {
  kind: string;
  actorId: string;
  subjectId: string;
  since: Date;
}): Promise<boolean> {
  const { kind, actorId, subjectId, since } = look;
  const found = await db().auditEvent.findFirst({
    where: { subjectType: 'salvage', subjectId, kind, actorId, at: { gte: since } },
    select: { id: true },
  });
  return found !== null;
}

const BATCH = 5_000;

/** Every row of a chain in order, in batches, as text exactly as the database digested it. */
export async function* readChain(tx: Tx, collectionId: string): AsyncGenerator<ChainRow> {
  for (let after: bigint | null = null; ; ) {
    const rows: (Omit<ChainRow, 'seq'> & { seq: bigint })[] = await tx.$queryRaw`
      SELECT seq, "collectionId"::text, to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS at,
        "actorId"::text, "actorName", "birdId"::text, "subjectType", "subjectId"::text, kind,
        payload::text AS "payloadText", reason, "requestId", "previousDigest", digest
      FROM "AuditEvent" WHERE "collectionId" = ${collectionId}::uuid
        AND (${after}::bigint IS NULL OR seq > ${after}::bigint)
      ORDER BY seq LIMIT ${BATCH}`;
    for (const row of rows) yield { ...row, seq: Number(row.seq) };
    const last = rows.at(-1);
    if (last === undefined || rows.length < BATCH) return;
    after = last.seq;
  }
}

export async function readHead(tx: Tx, collectionId: string): Promise<{ seq: number; digest: string }> {
  const head = await tx.auditHead.findUnique({ where: { collectionId } });
  return head === null ? { seq: 0, digest: '' } : { seq: Number(head.seq), digest: head.digest };
}

/** Every chain there is or should be: of collections, of heads, and of events that lost both. */
export async function listChains(): Promise<string[]> {
  const rows = await db().$queryRaw<{ id: string }[]>`
    SELECT id::text FROM "Collection" UNION SELECT "collectionId"::text FROM "AuditHead"
    UNION SELECT "collectionId"::text FROM "AuditEvent" ORDER BY 1`;
  return rows.map(({ id }) => id);
}

const LONGEST_MS = 3_600_000;

/** Runs reads that see one instant, however long they take. */
export const atOneInstant = <T>(read: (tx: Tx) => Promise<T>): Promise<T> =>
  db().$transaction(read, { isolationLevel: 'RepeatableRead', timeout: LONGEST_MS, maxWait: 15_000 });

const keyed = z.object({ key: z.string() });

/** What the events of a kind hold under "key", by subject: reminders that were sent already. */
export async function findEventKeys(
  tx: Tx,
  { subjectType, kind }: { subjectType: string; kind: string },
  subjectIds: readonly string[],
): Promise<Map<string, string[]>> {
  const events = await tx.auditEvent.findMany({
    where: { subjectType, subjectId: { in: [...subjectIds] }, kind },
    select: { subjectId: true, payload: true },
  });
  const keys = new Map<string, string[]>();
  for (const { subjectId, payload } of events) {
    const { key } = keyed.parse(payload);
    keys.set(subjectId, [...(keys.get(subjectId) ?? []), key]);
  }
  return keys;
}
