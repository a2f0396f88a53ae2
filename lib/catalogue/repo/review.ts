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

type ReviewedBird = ReviewedRecord['bird'];

/** What a row of the review desk is made from. */
export type ListedRecord = Pick<
  ReviewedRecord,
  | 'id'
  | 'birdId'
  | 'prepNumber'
  | 'state'
  | 'styleId'
  | 'preparatorId'
  | 'scribeId'
  | 'sentAt'
  | 'boneExplanation'
> & {
  bird: Pick<ReviewedBird, 'number' | 'taxonId'> & {
    taxon: Pick<
      NonNullable<ReviewedBird['taxon']>,
      'scientificName' | 'commonName' | 'orderName' | 'familyName' | 'genus'
    > | null;
    salvage: Pick<
      ReviewedBird['salvage'],
      'verbatimTaxon' | 'foundFrom' | 'locality' | 'coverage' | 'coverageRuling'
    > & { holds: { reason: string }[] };
    materials: { kind: string }[];
  };
  /** Of the fields that were asked for. */
  values: unknown;
  /** One of each person who wrote. */
  entries: { enteredById: string }[];
};

/** With the preparator's name, and whether it was returned before. */
export type RecordInReview = ListedRecord & { preparator: string | null; returnedBefore: boolean };

type Read = Omit<RecordInReview, 'bird' | 'entries' | 'values'> &
  Omit<ListedRecord['bird'], 'taxon' | 'salvage' | 'materials'> &
  Omit<ListedRecord['bird']['salvage'], 'holds'> &
  Omit<NonNullable<ListedRecord['bird']['taxon']>, 'scientificName'> & {
    scientificName: string | null;
    values: unknown;
    holds: string[];
    materialKinds: string[];
    writers: string[];
  };

/**
 * One more record than the page holds, the longest waiting first, in one statement and flat: with relations, names and
 * what was written read each by itself there were four.
 * @param fields whose values the rows are made from: all that stands in fifty records took a third of the desk's time
 */
export async function findInReview(
  collectionId: string,
  { after, size }: PageQuery,
  fields: readonly string[],
): Promise<RecordInReview[]> {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  const rows = await db().$queryRaw<Read[]>`
    WITH page AS (
      SELECT id FROM "BenchRecord" WHERE "collectionId" = ${collectionId}::uuid AND state = 'in-review'
        AND (${last === undefined} OR ("sentAt", id) > (${last?.[0] ?? null}::timestamptz, ${last?.[1] ?? null}::uuid))
      ORDER BY "sentAt", id LIMIT ${size + 1}
    )
    SELECT r.id, r."birdId", r."prepNumber", r.state, r."styleId", r."preparatorId", r."scribeId", r."sentAt",
      r."boneExplanation", p.name AS preparator, b.number, b."taxonId",
      t."scientificName", t."commonName", t."orderName", t."familyName", t.genus,
      s."verbatimTaxon", s."foundFrom", s.locality, s.coverage, s."coverageRuling",
      ARRAY(SELECT h.reason FROM "Hold" h WHERE h."salvageId" = s.id AND h."liftedAt" IS NULL) AS holds,
      ARRAY(SELECT m.kind FROM "Material" m WHERE m."birdId" = b.id) AS "materialKinds",
      (SELECT jsonb_object_agg(v.key, v.value) FROM jsonb_each(r.values) v WHERE v.key = ANY(${fields})) AS values,
      ARRAY(SELECT DISTINCT e."enteredById" FROM "BenchEntry" e WHERE e."recordId" = r.id) AS writers,
      EXISTS (SELECT FROM "AuditEvent" a WHERE a."subjectType" = 'bench-record' AND a."subjectId" = r.id
        AND a.kind = 'catalogue.returned' AND a."collectionId" = r."collectionId") AS "returnedBefore"
    FROM page JOIN "BenchRecord" r USING (id) JOIN "Bird" b ON b.id = r."birdId"
      JOIN "SalvageRecord" s ON s.id = b."salvageId" LEFT JOIN "Taxon" t ON t.id = b."taxonId"
      LEFT JOIN "Person" p ON p.id = r."preparatorId"
    ORDER BY r."sentAt", r.id`;
  return rows.map(({ number, taxonId, scientificName, commonName, orderName, familyName, genus, ...row }) => {
    const { verbatimTaxon, foundFrom, locality, coverage, coverageRuling, ...more } = row;
    const { holds, materialKinds, writers, values, ...record } = more;
    return {
      ...record,
      bird: {
        number,
        taxonId,
        taxon: scientificName === null ? null : { scientificName, commonName, orderName, familyName, genus },
        salvage: {
          verbatimTaxon,
          foundFrom,
          locality,
          coverage,
          coverageRuling,
          holds: holds.map((reason) => ({ reason })),
        },
        materials: materialKinds.map((kind) => ({ kind })),
      },
      values: values ?? {},
      entries: writers.map((enteredById) => ({ enteredById })),
    };
  });
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
