import 'server-only';
import { z } from 'zod';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorWhole, readCursor } from '@/lib/platform/paging';
import type { TaxonListQuery } from '../schema';
import type { TaxonChoice } from '../wire-choice';

const likePattern = (text: string): string => text.replace(/[\\%_]/g, '\\$&');

/** "T. migratorius" is looked for as T… migratorius. */
const asPattern = (q: string): string => likePattern(q).replace(/^(\p{Lu})\. */u, '$1% ');

/** How alike a text and a part of a name must be to be offered, 0 to 1: two wrong letters in ten still pass. */
const NEAR = 0.45;

/**
 * Names of the current checklist that contain the text, the likeliest first; where none does, names spelt nearly so (by
 * trigrams). A synonym is answered by its accepted taxon, once.
 */
export async function searchNames(tx: Tx, q: string, size: number): Promise<TaxonChoice[]> {
  const pattern = `%${asPattern(q)}%`;
  const found = await rankNames(
    tx,
    q,
    size,
    Prisma.sql`t."scientificName" ILIKE ${pattern} OR t."commonName" ILIKE ${pattern}`,
  );
  if (found.length > 0) return found;
  return rankNames(
    tx,
    q,
    size,
    Prisma.sql`word_similarity(${q}, t."scientificName") >= ${NEAR}::real
      OR word_similarity(${q}, t."commonName") >= ${NEAR}::real`,
  );
}

function rankNames(tx: Tx, q: string, size: number, condition: Prisma.Sql): Promise<TaxonChoice[]> {
  const begins = `${asPattern(q)}%`;
  return tx.$queryRaw<TaxonChoice[]>`
    WITH hit AS (
      SELECT t.id, t."acceptedId", t."scientificName" AS name,
        COALESCE(lower(${q}) IN (lower(t."scientificName"), lower(t."commonName")), false) AS whole,
        COALESCE(t."scientificName" ILIKE ${begins} OR t."commonName" ILIKE ${begins}, false) AS begins,
        GREATEST(word_similarity(${q}, t."scientificName"), word_similarity(${q}, t."commonName")) AS likeness
      FROM "Taxon" t JOIN "Checklist" c ON c.id = t."checklistId" AND c.current
      WHERE ${condition}
    ), best AS (
      SELECT DISTINCT ON (COALESCE(hit."acceptedId", hit.id)) hit.*, COALESCE(hit."acceptedId", hit.id) AS taxon
      FROM hit ORDER BY COALESCE(hit."acceptedId", hit.id), whole DESC, begins DESC, likeness DESC, ("acceptedId" IS NULL) DESC
    )
    SELECT a.id, a."scientificName", a."commonName", a.rank, a."familyName", a.sensitive,
      CASE WHEN best."acceptedId" IS NULL THEN NULL ELSE best.name END AS "foundAs"
    FROM best JOIN "Taxon" a ON a.id = best.taxon
    ORDER BY best.whole DESC, best.begins DESC, (a.rank = 'species') DESC, best.likeness DESC, a."scientificName"
    LIMIT ${size}`;
}

/** One more taxon than the page holds, in the order of the checklist. */
export function findTaxa(tx: Tx, collectionId: string, query: TaxonListQuery) {
  const last =
    query.after === undefined ? undefined : readCursor(query.after, z.tuple([cursorWhole, z.uuid()]));
  const and: Prisma.TaxonWhereInput[] = [{ checklist: { current: true } }, shownOf(query, collectionId)];
  if (query.family !== undefined) and.push({ familyName: query.family });
  if (query.q !== undefined) {
    const contains = { contains: query.q, mode: 'insensitive' as const };
    and.push({ OR: [{ scientificName: contains }, { commonName: contains }] });
  }
  if (last !== undefined)
    and.push({ OR: [{ sortOrder: { gt: last[0] } }, { sortOrder: last[0], id: { gt: last[1] } }] });
  return tx.taxon.findMany({
    where: { AND: and },
    include: { accepted: true, _count: { select: { birds: { where: { collectionId } } } } },
    orderBy: [{ sortOrder: 'asc' }, { id: 'asc' }],
    relationLoadStrategy: 'query',
    take: query.size + 1,
  });
}

function shownOf({ shown }: TaxonListQuery, collectionId: string): Prisma.TaxonWhereInput {
  if (shown === 'synonyms') return { acceptedId: { not: null } };
  if (shown === 'sensitive') return { sensitive: true };
  if (shown === 'held') return { birds: { some: { collectionId } } };
  return { acceptedId: null };
}

export function findTaxonRecord(tx: Tx, collectionId: string, id: string) {
  return tx.taxon.findUnique({
    where: { id },
    include: {
      checklist: true,
      accepted: true,
      synonyms: { orderBy: { scientificName: 'asc' } },
      _count: { select: { birds: { where: { collectionId } } } },
    },
  });
}

export function findFamilies(tx: Tx): Promise<{ familyName: string }[]> {
  return tx.$queryRaw`SELECT "familyName" FROM "Taxon" t JOIN "Checklist" c ON c.id = t."checklistId" AND c.current
    WHERE "familyName" IS NOT NULL GROUP BY "familyName" ORDER BY "familyName"`;
}

/** Marks or unmarks a taxon if it is not so already; 0 when it is. */
export async function setSensitive(tx: Tx, id: string, sensitive: boolean): Promise<number> {
  const { count } = await tx.taxon.updateMany({ where: { id, sensitive: !sensitive }, data: { sensitive } });
  return count;
}

/** The accepted taxon of each name (scientific or English, synonyms too) in the current checklist, in lower case. */
export function findByNames(
  tx: Tx,
  names: readonly string[],
): Promise<{ asked: string; id: string; scientificName: string; rank: string; sensitive: boolean }[]> {
  return tx.$queryRaw`
    SELECT DISTINCT ON (n.asked) n.asked, a.id, a."scientificName", a.rank, a.sensitive
    FROM unnest(${names.map((name) => name.toLowerCase())}::text[]) AS n(asked)
    JOIN "Taxon" t ON lower(t."scientificName") = n.asked OR lower(t."commonName") = n.asked
    JOIN "Checklist" c ON c.id = t."checklistId" AND c.current
    JOIN "Taxon" a ON a.id = COALESCE(t."acceptedId", t.id)
    ORDER BY n.asked, (lower(t."scientificName") = n.asked) DESC, (t."acceptedId" IS NULL) DESC`;
}
