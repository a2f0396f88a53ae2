import 'server-only';
import { db } from '@/lib/platform/db';
import type { Neighbours } from '../place-ranking';

/** The taxa of materials, for saying where their relatives lie. */
export async function findMaterialTaxa(collectionId: string, ids: readonly string[]) {
  const found = await db().material.findMany({
    where: { id: { in: [...ids] }, collectionId },
    select: { kind: true, bird: { select: { taxon: true } } },
  });
  return found.map(({ kind, bird }) => ({
    kind,
    scientificName: bird.taxon?.scientificName ?? null,
    genus: bird.taxon?.genus ?? null,
    family: bird.taxon?.familyName ?? null,
  }));
}

/** Units that hold shelved materials of the kinds of these, with how many are of the same species, genus or family. */
export async function countNeighbours(collectionId: string, ids: readonly string[]): Promise<Neighbours[]> {
  const rows = await db().$queryRaw<(Omit<Neighbours, 'free'> & { room: number | null; held: number })[]>`
    WITH wanted AS (
      SELECT m.kind, t.id AS taxon, t.genus, t."familyName" AS family
      FROM "Material" m JOIN "Bird" b ON b.id = m."birdId" LEFT JOIN "Taxon" t ON t.id = b."taxonId"
      WHERE m.id = ANY(${[...ids]}::uuid[])
    )
    SELECT u.id AS "unitId", u.path, u.code, u.rows IS NOT NULL AS positioned,
      COALESCE(u.capacity, u.rows * u.columns) AS room,
      (SELECT count(*)::int FROM "Placement" all_in WHERE all_in."unitId" = u.id) AS held,
      (count(DISTINCT m.id) FILTER (WHERE b."taxonId" IN (SELECT taxon FROM wanted)))::int AS "sameSpecies",
      (count(DISTINCT m.id) FILTER (WHERE t.genus IN (SELECT genus FROM wanted)))::int AS "sameGenus",
      (count(DISTINCT m.id) FILTER (WHERE t."familyName" IN (SELECT family FROM wanted)))::int AS "sameFamily",
      count(DISTINCT m.id)::int AS "ofKind"
    FROM "Placement" p
    JOIN "StorageUnit" u ON u.id = p."unitId" AND u.active
    JOIN "Material" m ON m.id = p."materialId"
    JOIN "Bird" b ON b.id = m."birdId"
    LEFT JOIN "Taxon" t ON t.id = b."taxonId"
    WHERE u."collectionId" = ${collectionId}::uuid AND m.kind IN (SELECT kind FROM wanted) AND m.state = 'shelved'
      AND NOT m.id = ANY(${[...ids]}::uuid[])
    GROUP BY u.id`;
  return rows.map(({ room, held, ...row }) => ({ ...row, free: room === null ? null : room - held }));
}

const MOST = 20;

/** Units by a part of their path or by their code. */
export async function findUnitsLike(collectionId: string, q: string) {
  const found = await db().storageUnit.findMany({
    where: {
      collectionId,
      active: true,
      OR: [{ path: { contains: q, mode: 'insensitive' } }, { code: { equals: q, mode: 'insensitive' } }],
    },
    include: { _count: { select: { placements: true } } },
    orderBy: { path: 'asc' },
    take: MOST,
  });
  return found.map((unit) => {
    const room = unit.capacity ?? (unit.rows === null ? null : unit.rows * (unit.columns ?? 0));
    return {
      unitId: unit.id,
      path: unit.path,
      code: unit.code,
      positioned: unit.rows !== null,
      free: room === null ? null : room - unit._count.placements,
    };
  });
}
