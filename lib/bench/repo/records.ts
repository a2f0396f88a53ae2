import 'server-only';
import { z } from 'zod';
import type { Snapshot } from '@/lib/bench/snapshot';
import type { BenchListQuery } from '@/lib/bench/wire-desk';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, cursorWhole, readCursor } from '@/lib/platform/paging';
import { takeTurns } from '@/lib/platform/tx';

const withBird = {
  bird: {
    include: {
      taxon: true,
      catalogue: { select: { number: true } },
      salvage: { include: { holds: { where: { liftedAt: null } } } },
      materials: {
        include: { placement: { include: { unit: true } } },
        orderBy: [{ createdAt: 'asc' }, { suffix: 'asc' }],
      },
    },
  },
} satisfies Prisma.BenchRecordInclude;

export type FoundRecord = Prisma.BenchRecordGetPayload<{ include: typeof withBird }>;

/** One record of the collection, by itself. */
export const findBareRecord = (tx: Tx, collectionId: string, id: string) =>
  tx.benchRecord.findFirst({ where: { id, collectionId } });

export type BareRecord = NonNullable<Awaited<ReturnType<typeof findBareRecord>>>;

/** One record of the collection with its bird, taxon, salvage facts and materials. */
export const findRecord = (tx: Tx, collectionId: string, id: string): Promise<FoundRecord | null> =>
  tx.benchRecord.findFirst({ where: { id, collectionId }, include: withBird });

export const findRecordOfBird = (tx: Tx, collectionId: string, birdId: string): Promise<FoundRecord | null> =>
  tx.benchRecord.findFirst({ where: { birdId, collectionId }, include: withBird });

/**
 * Makes everybody who writes this record (or starts one for this bird) wait for each other until the transaction
 * ends. Unlike a row lock it is not itself a write, so a delivery that changes nothing stays a read.
 */
export async function queueUp(tx: Tx, id: string): Promise<void> {
  await takeTurns(tx, `bench ${id}`);
}

export const findBird = (tx: Tx, collectionId: string, id: string) =>
  tx.bird.findFirst({ where: { id, collectionId }, include: { taxon: true } });

export function insertRecord(
  tx: Tx,
  data: {
    collectionId: string;
    birdId: string;
    prepNumber: string;
    styleId: string;
    styleVersion: number;
    preparatorId: string;
    startedAt: Date;
  },
) {
  return tx.benchRecord.create({ data });
}

/** One more row than the page holds: the person's own first, newest first. */
export async function findRecords(collectionId: string, me: string | null, query: BenchListQuery) {
  const { states, workerId, q, after, size } = query;
  const last =
    after === undefined ? undefined : readCursor(after, z.tuple([cursorWhole, cursorInstant, z.uuid()]));
  const rows = await db().$queryRaw<{ id: string; mine: number }[]>`
    SELECT id, mine FROM (
      SELECT r.id, r."startedAt",
        (CASE WHEN ${me}::uuid IN (r."preparatorId", r."scribeId") THEN 1 ELSE 0 END) AS mine
      FROM "BenchRecord" r JOIN "Bird" b ON b.id = r."birdId" LEFT JOIN "Taxon" t ON t.id = b."taxonId"
      WHERE r."collectionId" = ${collectionId}::uuid AND r.state = ANY(${states})
        AND (${workerId ?? null}::uuid IS NULL OR ${workerId ?? null}::uuid IN (r."preparatorId", r."scribeId"))
        AND (${q ?? null}::text IS NULL OR b.number ILIKE ${`%${q ?? ''}%`} OR r."prepNumber" ILIKE ${`%${q ?? ''}%`}
          OR t."scientificName" ILIKE ${`%${q ?? ''}%`} OR t."commonName" ILIKE ${`%${q ?? ''}%`})
    ) found
    WHERE ${last === undefined} OR (mine, "startedAt", id)
      < (${last?.[0] ?? 0}::int, ${last?.[1] ?? null}::timestamptz, ${last?.[2] ?? null}::uuid)
    ORDER BY mine DESC, "startedAt" DESC, id DESC LIMIT ${size + 1}`;
  const records = await findRecordsById(rows.map(({ id }) => id));
  return rows.flatMap(({ id, mine }) => {
    const record = records.find((one) => one.id === id);
    return record === undefined ? [] : [{ ...record, mine: mine === 1 }];
  });
}

const findRecordsById = (ids: readonly string[]) =>
  db().benchRecord.findMany({
    where: { id: { in: [...ids] } },
    include: { bird: { include: { taxon: true, salvage: { select: { verbatimTaxon: true } } } } },
  });

export type ListedRecord = Awaited<ReturnType<typeof findRecords>>[number];

/** Birds that somebody took and for which no record was started; those of one person, or all. */
export const findClaimed = (collectionId: string, personId?: string) =>
  db().bird.findMany({
    where: {
      collectionId,
      state: { in: ['claimed', 'thawing'] },
      bench: null,
      claimedById: personId ?? { not: null },
    },
    include: { taxon: true, salvage: { select: { verbatimTaxon: true } } },
    orderBy: [{ claimExpiresAt: 'asc' }, { number: 'asc' }],
    take: 100,
  });

/** Birds that are out of the freezer and not finished. */
export const findThawed = (collectionId: string) =>
  db().bird.findMany({
    where: { collectionId, state: { in: ['thawing', 'on-the-bench'] }, thawStartedAt: { not: null } },
    include: { taxon: true, salvage: { select: { verbatimTaxon: true } }, bench: true },
    orderBy: { thawStartedAt: 'asc' },
    take: 100,
  });

export async function findNames(
  tx: Tx,
  ids: readonly (string | null | undefined)[],
): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null && id !== undefined))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

/** People who may sit at the bench of this collection. */
export const findColleagues = (tx: Tx, collectionId: string) =>
  tx.person.findMany({
    where: {
      active: true,
      memberships: { some: { collectionId, role: { in: ['volunteer', 'preparator', 'curator'] } } },
    },
    select: { id: true, name: true },
    orderBy: { name: 'asc' },
  });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

/** Writes one stage's part of a collection's settings and leaves the others alone. */
export async function writeSettings(tx: Tx, collectionId: string, bench: unknown): Promise<void> {
  await tx.$executeRaw`UPDATE "Collection"
    SET settings = jsonb_set(settings, '{bench}', ${JSON.stringify(bench)}::jsonb) WHERE id = ${collectionId}::uuid`;
}

type RecordPatch = Pick<
  Prisma.BenchRecordUncheckedUpdateManyInput,
  'state' | 'styleId' | 'styleVersion' | 'scribeId' | 'sentAt' | 'finishedAt' | 'lackExplanation'
>;

/** Changes a record if its state (and version, when given) is still what the caller saw; 0 when it is not. */
export async function updateRecord(
  tx: Tx,
  where: { id: string; state: string; version?: number },
  data: RecordPatch,
): Promise<number> {
  const { count } = await tx.benchRecord.updateMany({ where, data: { ...data, version: { increment: 1 } } });
  return count;
}

type RecordDocument = 'stepsDone' | 'overrides' | 'reviewRemarks';

/** Writes one of the small documents of a record while it is in one of these states; 0 when it is not. */
export async function writeDocument(
  tx: Tx,
  where: { id: string; states: readonly string[] },
  document: RecordDocument,
  content: unknown,
): Promise<number> {
  const { count } = await tx.benchRecord.updateMany({
    where: { id: where.id, state: { in: [...where.states] } },
    data: { [document]: content as Prisma.InputJsonValue },
  });
  return count;
}

/** Writes the current values while the record is open; 0 when it is not any more. */
export async function writeSnapshot(tx: Tx, id: string, values: Snapshot): Promise<number> {
  const { count } = await tx.benchRecord.updateMany({
    where: { id, state: { in: ['draft', 'returned'] } },
    data: { values: values as Prisma.InputJsonValue },
  });
  return count;
}

/** The bird's sex follows the one determined at the bench. */
export async function writeBirdSex(tx: Tx, birdId: string, sex: string): Promise<void> {
  await tx.bird.updateMany({ where: { id: birdId, sex: { not: sex } }, data: { sex } });
}
