import 'server-only';
import { db } from '@/lib/platform/db';
import { splitMaterialNumber } from '@/lib/platform/numbers';

/** Names and numbers that stand for rows of small tables: looked up first, so that the search itself goes by id. */

/** `text` between percent signs, with the signs of LIKE in it taken as letters. */
export const likeText = (text: string): string => text.toLowerCase().replace(/[\\%_]/g, '\\$&');
const wordStart = (text: string): string => `\\m${text.replace(/[^\p{L}\p{N}\s]/gu, '\\$&')}`;

export type Names = { ids: string[]; readAs: string[] };

type TaxonHit = { id: string; acceptedId: string | null; name: string; score: number };

/**
 * Taxa whose scientific, common, family or order name has this text at the start of a word, with their synonyms; where
 * none has, those whose name is most like it, and `readAs` says which.
 */
export async function findTaxa(text: string): Promise<Names> {
  const like = `%${likeText(text)}%`;
  const start = wordStart(text);
  const exact = await db().$queryRaw<TaxonHit[]>`
    SELECT id, "acceptedId", "scientificName" AS name, 1.0::float AS score FROM "Taxon"
    WHERE ("scientificName" ILIKE ${like} AND "scientificName" ~* ${start})
      OR ("commonName" ILIKE ${like} AND "commonName" ~* ${start})
      OR lower("familyName") = lower(${text}) OR lower("orderName") = lower(${text})`;
  const hits = exact.length > 0 ? exact : await findLikeTaxa(text);
  if (hits.length === 0) return { ids: [], readAs: [] };
  const ids = [
    ...new Set(hits.flatMap(({ id, acceptedId }) => [id, ...(acceptedId === null ? [] : [acceptedId])])),
  ];
  const same = await db().taxon.findMany({ where: { acceptedId: { in: ids } }, select: { id: true } });
  return {
    ids: [...new Set([...ids, ...same.map(({ id }) => id)])],
    readAs: exact.length > 0 ? [] : hits.map(({ name }) => name),
  };
}

/** How much less alike than the best a name may be to count as meant. */
const NEARLY_AS_LIKE = 0.05;

async function findLikeTaxa(text: string): Promise<TaxonHit[]> {
  if (text.length < 4) return [];
  const hits = await db().$queryRaw<TaxonHit[]>`
    SELECT id, "acceptedId", CASE WHEN strict_word_similarity(${text}, "scientificName")
        >= strict_word_similarity(${text}, COALESCE("commonName", '')) THEN "scientificName" ELSE "commonName" END AS name,
      GREATEST(strict_word_similarity(${text}, "scientificName"),
        strict_word_similarity(${text}, COALESCE("commonName", '')))::float AS score
    FROM "Taxon" WHERE ${text} <% "scientificName" OR ${text} <% "commonName"
    ORDER BY score DESC LIMIT 20`;
  const best = hits[0]?.score ?? 0;
  return best < 0.4 ? [] : hits.filter(({ score }) => score >= best - NEARLY_AS_LIKE);
}

/** People of the collection whose name has this text at the start of a word. */
export async function findPeople(collectionId: string, text: string): Promise<string[]> {
  const rows = await db().$queryRaw<{ id: string }[]>`
    SELECT id FROM "Person" p WHERE name ILIKE ${`%${likeText(text)}%`} AND name ~* ${wordStart(text)}
      AND EXISTS (SELECT 1 FROM "Membership" WHERE "personId" = p.id AND "collectionId" = ${collectionId}::uuid)`;
  return rows.map(({ id }) => id);
}

export async function findFinders(collectionId: string, text: string): Promise<string[]> {
  const rows = await db().finder.findMany({
    where: { collectionId, name: { contains: text, mode: 'insensitive' } },
    select: { id: true },
  });
  return rows.map(({ id }) => id);
}

export async function findPermits(collectionId: string, text: string): Promise<string[]> {
  const rows = await db().permit.findMany({
    where: {
      collectionId,
      OR: [
        { number: { contains: text, mode: 'insensitive' } },
        { authority: { contains: text, mode: 'insensitive' } },
      ],
    },
    select: { id: true },
  });
  return rows.map(({ id }) => id);
}

/** Birds with materials on the loans of this number, state or borrower. */
export async function findLoaned(collectionId: string, text: string): Promise<string[]> {
  const rows = await db().material.findMany({
    where: {
      collectionId,
      loanLines: {
        some: {
          loan: {
            OR: [
              { number: { equals: text, mode: 'insensitive' } },
              { state: text.toLowerCase().replaceAll(' ', '-') },
              { borrower: { institution: { contains: text, mode: 'insensitive' } } },
            ],
          },
        },
      },
    },
    select: { birdId: true },
    distinct: ['birdId'],
  });
  return rows.map(({ birdId }) => birdId);
}

/** The birds that bear exactly this number: their own, a vial's code, or the label of a material. */
export async function findByNumber(collectionId: string, text: string): Promise<string[]> {
  const label = splitMaterialNumber(text);
  const rows = await db().$queryRaw<{ id: string }[]>`
    SELECT "birdId" AS id FROM "CatalogueIndex" WHERE "collectionId" = ${collectionId}::uuid
      AND (number = ${text} OR "catalogueNumber" = ${text})
    UNION SELECT m."birdId" FROM "Vial" v JOIN "Material" m ON m.id = v."materialId"
      WHERE v."collectionId" = ${collectionId}::uuid AND v.code = ${text}
    UNION SELECT m."birdId" FROM "CatalogueIndex" i JOIN "Material" m ON m."birdId" = i."birdId"
      WHERE i."collectionId" = ${collectionId}::uuid AND m.suffix = ${label?.suffix ?? ''}
        AND (i.number = ${label?.birdNumber ?? ''} OR i."catalogueNumber" = ${label?.birdNumber ?? ''})`;
  return rows.map(({ id }) => id);
}
