import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import type { AttachmentSubject } from './schema';

const { sql } = Prisma;

/** What a file belongs to: enough to decide who may see and add. */
export type FileSubject = {
  birdId: string | null;
  sensitive: boolean;
  approved: boolean;
};

/** A subject that is no bird. */
const paperOf = (table: Prisma.Sql): Prisma.Sql =>
  sql`SELECT p.id AS subject, p."collectionId", NULL::uuid AS bird, NULL::uuid AS taxon FROM ${table} p`;

const SUBJECTS: Record<AttachmentSubject, Prisma.Sql> = {
  permit: paperOf(sql`"Permit"`),
  accession: paperOf(sql`"Accession"`),
  loan: paperOf(sql`"Loan"`),
  bird: sql`SELECT b.id AS subject, b."collectionId", b.id AS bird, b."taxonId" AS taxon FROM "Bird" b`,
  salvage: sql`SELECT s.id AS subject, s."collectionId", b.id AS bird, COALESCE(b."taxonId", s."taxonId") AS taxon
    FROM "SalvageRecord" s LEFT JOIN "Bird" b ON b."salvageId" = s.id`,
  'loan-line': sql`SELECT n.id AS subject, l."collectionId", b.id AS bird, b."taxonId" AS taxon FROM "LoanLine" n
    JOIN "Loan" l ON l.id = n."loanId" JOIN "Material" m ON m.id = n."materialId" JOIN "Bird" b ON b.id = m."birdId"`,
};

/** The subject within this collection, or null. */
export async function findSubject(
  db: Tx,
  collectionId: string,
  type: AttachmentSubject,
  id: string,
): Promise<FileSubject | null> {
  const [row] = await db.$queryRaw<FileSubject[]>`
    SELECT x.bird AS "birdId", COALESCE(t.sensitive, false) AS sensitive,
      EXISTS (SELECT 1 FROM "CatalogueEntry" e WHERE e."birdId" = x.bird) AS approved
    FROM (${SUBJECTS[type]}) x LEFT JOIN "Taxon" t ON t.id = x.taxon
    WHERE x.subject = ${id}::uuid AND x."collectionId" = ${collectionId}::uuid`;
  return row ?? null;
}

/** Files of a subject; of a bird also those of its find and its loans, of a loan also those of its lines. */
export async function findFiles(db: Tx, collectionId: string, type: AttachmentSubject, id: string) {
  const lines =
    type === 'loan'
      ? await db.loanLine.findMany({ where: { loanId: id, loan: { collectionId } }, select: { id: true } })
      : [];
  return db.attachment.findMany({
    where: {
      collectionId,
      removedAt: null,
      OR: [
        { subjectType: type, subjectId: id },
        ...(type === 'bird' ? [{ birdId: id }] : []),
        { subjectType: 'loan-line', subjectId: { in: lines.map((line) => line.id) } },
      ],
    },
    orderBy: [{ uploadedAt: 'asc' }, { id: 'asc' }],
  });
}
export type FoundFile = Awaited<ReturnType<typeof findFiles>>[number];

/** Pictures of catalogued birds that have a public copy, in the order they came. */
export async function findPublicPictures(db: Tx, collectionId: string, birdIds: readonly string[]) {
  return db.$queryRaw<PublicPicture[]>`
    SELECT f.id, f."birdId", f.caption, f."takenAt", f."publicSha256" FROM "Attachment" f
    JOIN "CatalogueEntry" e ON e."birdId" = f."birdId"
    WHERE f."collectionId" = ${collectionId}::uuid AND f."subjectType" = 'bird' AND f."removedAt" IS NULL
      AND f."publicSha256" IS NOT NULL AND f."birdId" = ANY(${birdIds}::uuid[])
    ORDER BY f."birdId", f."uploadedAt", f.id`;
}
export type PublicPicture = Pick<FoundFile, 'id' | 'caption' | 'takenAt'> & {
  birdId: string;
  publicSha256: string;
};

export const findFile = (db: Tx, collectionId: string, id: string): Promise<FoundFile | null> =>
  db.attachment.findFirst({ where: { id, collectionId, removedAt: null } });

export const findSameFile = (db: Tx, subjectType: string, subjectId: string, sha256: string) =>
  db.attachment.findFirst({
    where: { subjectType, subjectId, sha256, removedAt: null },
    select: { id: true },
  });

export type NewFile = Omit<FoundFile, 'removedAt'>;
export const insertFile = (tx: Tx, file: NewFile): Promise<FoundFile> => tx.attachment.create({ data: file });

export const writeCaption = async (tx: Tx, id: string, caption: string | null): Promise<number> =>
  (await tx.attachment.updateMany({ where: { id, removedAt: null }, data: { caption } })).count;

export const markRemoved = async (tx: Tx, id: string, removedAt: Date): Promise<number> =>
  (await tx.attachment.updateMany({ where: { id, removedAt: null }, data: { removedAt } })).count;

export async function findUploaders(db: Tx, ids: readonly string[]): Promise<Map<string, string>> {
  const people = await db.person.findMany({
    where: { id: { in: [...new Set(ids)] } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

const BATCH = 500;

/** Every file that should be in the store, in batches. */
export async function* readAllFiles(db: Tx): AsyncGenerator<FoundFile> {
  for (let after: string | undefined; ; ) {
    const rows = await db.attachment.findMany({
      where: { removedAt: null, ...(after === undefined ? {} : { id: { gt: after } }) },
      orderBy: { id: 'asc' },
      take: BATCH,
    });
    yield* rows;
    after = rows.at(-1)?.id;
    if (rows.length < BATCH) return;
  }
}
