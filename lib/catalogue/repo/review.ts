import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';

const withFacts = {
  entries: { orderBy: { enteredAt: 'desc' } },
  bird: {
    include: {
      taxon: true,
      catalogue: true,
      bones: { orderBy: [{ element: 'asc' }, { side: 'asc' }, { portion: 'asc' }] },
      salvage: { include: { permit: true, accession: true, holds: { where: { liftedAt: null } } } },
      materials: {
        orderBy: { suffix: 'asc' },
        include: { vial: true, placement: { include: { unit: true } }, deaccession: true },
      },
    },
  },
} satisfies Prisma.BenchRecordInclude;

/** A bench record with everything a reviewer decides upon. */
export type ReviewedRecord = Prisma.BenchRecordGetPayload<{ include: typeof withFacts }>;

const listed = {
  id: true,
  birdId: true,
  prepNumber: true,
  state: true,
  styleId: true,
  preparatorId: true,
  scribeId: true,
  sentAt: true,
  boneExplanation: true,
  bird: {
    select: {
      number: true,
      taxonId: true,
      taxon: {
        select: { scientificName: true, commonName: true, orderName: true, familyName: true, genus: true },
      },
      salvage: {
        select: {
          verbatimTaxon: true,
          foundFrom: true,
          locality: true,
          coverage: true,
          coverageRuling: true,
          holds: { where: { liftedAt: null }, select: { reason: true } },
        },
      },
      materials: { select: { kind: true } },
    },
  },
} satisfies Prisma.BenchRecordSelect;

/** What a row of the review desk is made from. */
export type ListedRecord = Prisma.BenchRecordGetPayload<{ select: typeof listed }> & {
  /** Of the fields that were asked for. */
  values: unknown;
  /** One of each person who wrote. */
  entries: { enteredById: string }[];
};

/** With whether it was returned before. */
export type RecordInReview = ListedRecord & { returnedBefore: boolean };

/**
 * One more record than the page holds, the longest waiting first.
 * @param fields whose values the rows are made from: all that stands in fifty records took a third of the desk's time
 */
export async function findInReview(
  collectionId: string,
  { after, size }: PageQuery,
  fields: readonly string[],
): Promise<RecordInReview[]> {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  const later = last?.[0];
  const orderBy: Prisma.BenchRecordOrderByWithRelationInput[] = [{ sentAt: 'asc' }, { id: 'asc' }];
  const page = await db().benchRecord.findMany({
    where: {
      collectionId,
      state: 'in-review',
      ...(last === undefined
        ? {}
        : { OR: [{ sentAt: { gt: later } }, { sentAt: later, id: { gt: last[1] } }] }),
    },
    select: { id: true },
    orderBy,
    take: size + 1,
  });
  // What stands around them is read of these alone, not of all that wait.
  const ids = page.map(({ id }) => id);
  const [records, written] = await Promise.all([
    db().benchRecord.findMany({ where: { id: { in: ids } }, select: listed, orderBy }),
    findWritten(ids, fields),
  ]);
  return records.map((record) => ({
    ...record,
    ...(written.get(record.id) ?? { values: {}, entries: [], returnedBefore: false }),
  }));
}

/** What was written in these fields of several records, who wrote anything in them, and which were returned. */
async function findWritten(
  ids: readonly string[],
  fields: readonly string[],
): Promise<Map<string, Pick<RecordInReview, 'values' | 'entries' | 'returnedBefore'>>> {
  const rows = await db().$queryRaw<
    { id: string; values: unknown; writers: string[]; returnedBefore: boolean }[]
  >`
    SELECT r.id,
      (SELECT jsonb_object_agg(v.key, v.value) FROM jsonb_each(r.values) v WHERE v.key = ANY(${fields})) AS values,
      ARRAY(SELECT DISTINCT e."enteredById" FROM "BenchEntry" e WHERE e."recordId" = r.id) AS writers,
      EXISTS (SELECT FROM "AuditEvent" a WHERE a."subjectType" = 'bench-record' AND a."subjectId" = r.id
        AND a.kind = 'catalogue.returned' AND a."collectionId" = r."collectionId") AS "returnedBefore"
    FROM "BenchRecord" r WHERE r.id = ANY(${ids}::uuid[])`;
  return new Map(
    rows.map(({ id, values, writers, returnedBefore }) => [
      id,
      { values: values ?? {}, entries: writers.map((enteredById) => ({ enteredById })), returnedBefore },
    ]),
  );
}

export const countInReview = (collectionId: string): Promise<number> =>
  db().benchRecord.count({ where: { collectionId, state: 'in-review' } });

export const findReviewed = (tx: Tx, collectionId: string, id: string): Promise<ReviewedRecord | null> =>
  tx.benchRecord.findFirst({ where: { id, collectionId }, include: withFacts });

export type ReturnEvent = { at: Date; actorName: string; payload: unknown };

/** The last time that this record was returned; null when it never was. */
export const findLastReturn = (tx: Tx, collectionId: string, recordId: string): Promise<ReturnEvent | null> =>
  tx.auditEvent.findFirst({
    where: { collectionId, subjectType: 'bench-record', subjectId: recordId, kind: 'catalogue.returned' },
    orderBy: { seq: 'desc' },
    select: { at: true, actorName: true, payload: true },
  });

/** Approved birds of the same taxon, those of the same sex first, the newest first. */
export function findSimilar(
  tx: Tx,
  bird: { id: string; collectionId: string; taxonId: string | null; sex: string },
) {
  if (bird.taxonId === null) return [];
  return tx.$queryRaw<
    {
      birdId: string;
      number: string;
      sex: string;
      age: string | null;
      foundOn: Date;
      massG: number | null;
      wingMm: number | null;
    }[]
  >`SELECT b.id AS "birdId", e.number, b.sex, r.values #>> '{age,value}' AS age, s."foundFrom" AS "foundOn",
      (r.values #>> '{massG,value}')::float AS "massG", (r.values #>> '{wingMm,value}')::float AS "wingMm"
    FROM "CatalogueEntry" e JOIN "Bird" b ON b.id = e."birdId" JOIN "SalvageRecord" s ON s.id = b."salvageId"
    LEFT JOIN "BenchRecord" r ON r."birdId" = b.id
    WHERE b."taxonId" = ${bird.taxonId}::uuid AND b."collectionId" = ${bird.collectionId}::uuid
      AND b.id <> ${bird.id}::uuid
    ORDER BY (b.sex = ${bird.sex}) DESC, e."approvedAt" DESC LIMIT 12`;
}

export const insertEntry = (
  tx: Tx,
  data: {
    collectionId: string;
    birdId: string;
    number: string;
    approvedById: string;
    approvedAt: Date;
    approved: Prisma.InputJsonValue;
  },
) => tx.catalogueEntry.create({ data });

/** Writes the identification under which a bird is approved, where nobody determined it before. */
export async function ensureDetermination(
  tx: Tx,
  data: {
    birdId: string;
    taxonId: string | null;
    verbatim: string;
    determinedBy: string;
    determinedOn: Date;
  },
): Promise<void> {
  const known = await tx.determination.count({ where: { birdId: data.birdId } });
  if (known === 0) await tx.determination.create({ data });
}

export const setBirdSex = (tx: Tx, id: string, sex: string) =>
  tx.bird.updateMany({ where: { id, sex: { not: sex } }, data: { sex, version: { increment: 1 } } });

/** Names of people by id. */
export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [
    ...new Set(ids.filter((id): id is string => id !== null && z.uuid().safeParse(id).success)),
  ];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
