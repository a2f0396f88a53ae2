import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import type { NoticeSubject } from '../schema';

const { sql } = Prisma;

/** A record that is commented on or told of: what it is called, and enough to decide who may read. */
export type FoundSubject = {
  label: string;
  birdId: string | null;
  /** It is of a bird, or holds one, whose exact place is generalised. */
  sensitive: boolean;
  /** Who works on its bird: claimant, co-worker, preparator, scribe. */
  workers: (string | null)[];
};

const SUBJECTS: Record<NoticeSubject, Prisma.Sql> = {
  bird: sql`SELECT b.id AS subject, b."collectionId", b.number AS label, b.id AS bird, NULL::bool AS sensitive
    FROM "Bird" b`,
  salvage: sql`SELECT s.id AS subject, s."collectionId", 'find ' || s.number AS label, b.id AS bird, t.sensitive
    FROM "SalvageRecord" s LEFT JOIN "Bird" b ON b."salvageId" = s.id LEFT JOIN "Taxon" t ON t.id = s."taxonId"`,
  'bench-record': sql`SELECT r.id AS subject, r."collectionId", 'bench record ' || r."prepNumber" AS label,
    r."birdId" AS bird, NULL::bool AS sensitive FROM "BenchRecord" r`,
  accession: sql`SELECT a.id AS subject, a."collectionId", 'accession ' || a.number AS label, NULL::uuid AS bird,
    EXISTS (SELECT 1 FROM "SalvageRecord" s JOIN "Taxon" t ON t.id = s."taxonId"
      WHERE s."accessionId" = a.id AND t.sensitive) AS sensitive FROM "Accession" a`,
  permit: sql`SELECT p.id AS subject, p."collectionId", 'permit ' || p.number AS label, NULL::uuid AS bird,
    false AS sensitive FROM "Permit" p`,
  loan: sql`SELECT l.id AS subject, l."collectionId", 'loan ' || l.number AS label, NULL::uuid AS bird,
    EXISTS (SELECT 1 FROM "LoanLine" n JOIN "Material" m ON m.id = n."materialId" JOIN "Bird" b ON b.id = m."birdId"
      JOIN "Taxon" t ON t.id = b."taxonId" WHERE n."loanId" = l.id AND t.sensitive) AS sensitive FROM "Loan" l`,
  material: sql`SELECT m.id AS subject, m."collectionId",
    COALESCE(e.number, b.number) || '-' || m.suffix AS label, m."birdId" AS bird, NULL::bool AS sensitive
    FROM "Material" m JOIN "Bird" b ON b.id = m."birdId" LEFT JOIN "CatalogueEntry" e ON e."birdId" = b.id`,
  webhook: sql`SELECT w.id AS subject, w."collectionId", 'webhook ' || w.name AS label, NULL::uuid AS bird,
    false AS sensitive FROM "Webhook" w`,
};

/** The subject within this collection, or null. */
export async function findSubject(
  db: Tx,
  collectionId: string,
  type: NoticeSubject,
  id: string,
): Promise<FoundSubject | null> {
  const [row] = await db.$queryRaw<FoundSubject[]>`
    SELECT x.label, x.bird AS "birdId",
      COALESCE(x.sensitive, false) OR COALESCE(t.sensitive, false) AS sensitive,
      ARRAY[b."claimedById", b."coWorkerId", r."preparatorId", r."scribeId"]::text[] AS workers
    FROM (${SUBJECTS[type]}) x
    LEFT JOIN "Bird" b ON b.id = x.bird
    LEFT JOIN "BenchRecord" r ON r."birdId" = x.bird
    LEFT JOIN "Taxon" t ON t.id = b."taxonId"
    WHERE x.subject = ${id}::uuid AND x."collectionId" = ${collectionId}::uuid`;
  return row ?? null;
}

export type Member = { id: string; name: string; active: boolean; roles: string[] };

/** People of the collection with their roles, by name: those with these ids or roles, or everybody. */
export async function findMembers(
  db: Tx,
  collectionId: string,
  only?: { ids: readonly string[]; roles: readonly string[] },
): Promise<Member[]> {
  const people = await db.person.findMany({
    where: {
      memberships: { some: { collectionId } },
      ...(only === undefined
        ? {}
        : {
            OR: [
              { id: { in: [...only.ids] } },
              { memberships: { some: { collectionId, role: { in: [...only.roles] } } } },
            ],
          }),
    },
    select: {
      id: true,
      name: true,
      active: true,
      memberships: { where: { collectionId }, select: { role: true } },
    },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return people.map(({ memberships, ...person }) => ({
    ...person,
    roles: memberships.map(({ role }) => role),
  }));
}

export async function findNames(db: Tx, ids: readonly string[]): Promise<Map<string, string>> {
  const people = await db.person.findMany({
    where: { id: { in: [...new Set(ids)] } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
