import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';

/** What a place on a box map shows of a material: there are up to a hundred of them, so no more is read. */
export type OccupantRow = {
  id: string;
  birdId: string;
  suffix: string;
  kind: string;
  state: string | null;
  custody: string;
  description: string | null;
  bird: {
    number: string;
    claimedById: string | null;
    catalogue: { number: string } | null;
    taxon: { scientificName: string } | null;
    bench: { preparatorId: string; scribeId: string | null } | null;
  };
  placement: { position: string | null; placedAt: Date } | null;
  vial: { code: string; tissues: string[]; filledById: string } | null;
};

type Read = Pick<OccupantRow, 'id' | 'birdId' | 'suffix' | 'kind' | 'state' | 'custody' | 'description'> & {
  number: string;
  claimedById: string | null;
  catalogueNumber: string | null;
  scientificName: string | null;
  preparatorId: string | null;
  scribeId: string | null;
  position: string | null;
  placedAt: string | null;
  code: string | null;
  tissues: string[] | null;
  filledById: string | null;
};

/**
 * Flat rows in one text: what Prisma asks of these relations is nested, and to read eighty rows of eighteen columns one
 * by one took twice the processor's time.
 */
async function readOccupants(tx: Tx, which: Prisma.Sql): Promise<OccupantRow[]> {
  const [found] = await tx.$queryRaw<{ rows: string }[]>`
    SELECT coalesce(json_agg(o ORDER BY o.number, o.suffix), '[]')::text AS rows FROM (
      SELECT m.id, m."birdId", m.suffix, m.kind, m.state, m.custody, m.description,
        b.number, b."claimedById", c.number AS "catalogueNumber", t."scientificName",
        r."preparatorId", r."scribeId", p.position, p."placedAt", v.code, v.tissues, v."filledById"
      FROM "Material" m JOIN "Bird" b ON b.id = m."birdId"
        LEFT JOIN "CatalogueEntry" c ON c."birdId" = b.id LEFT JOIN "Taxon" t ON t.id = b."taxonId"
        LEFT JOIN "BenchRecord" r ON r."birdId" = b.id LEFT JOIN "Placement" p ON p."materialId" = m.id
        LEFT JOIN "Vial" v ON v."materialId" = m.id
      WHERE ${which}
    ) o`;
  const rows: Read[] = JSON.parse(found?.rows ?? '[]');
  return rows.map((row) => ({
    id: row.id,
    birdId: row.birdId,
    suffix: row.suffix,
    kind: row.kind,
    state: row.state,
    custody: row.custody,
    description: row.description,
    bird: {
      number: row.number,
      claimedById: row.claimedById,
      catalogue: row.catalogueNumber === null ? null : { number: row.catalogueNumber },
      taxon: row.scientificName === null ? null : { scientificName: row.scientificName },
      bench: row.preparatorId === null ? null : { preparatorId: row.preparatorId, scribeId: row.scribeId },
    },
    placement: row.placedAt === null ? null : { position: row.position, placedAt: new Date(row.placedAt) },
    vial:
      row.code === null || row.tissues === null || row.filledById === null
        ? null
        : { code: row.code, tissues: row.tissues, filledById: row.filledById },
  }));
}

/** Materials that lie directly in a unit. */
export const findOccupants = (tx: Tx, unitId: string): Promise<OccupantRow[]> =>
  readOccupants(tx, Prisma.sql`p."unitId" = ${unitId}::uuid`);

/** Materials out on loan or missing whose last place was in this unit, with that place. */
export async function findAway(tx: Tx, collectionId: string, unitId: string) {
  const last = await tx.$queryRaw<{ materialId: string; position: string | null }[]>`
    SELECT DISTINCT m.id AS "materialId", last."toPosition" AS position
    FROM "MaterialMove" here JOIN "Material" m ON m.id = here."materialId"
    CROSS JOIN LATERAL (
      SELECT "toUnitId", "toPosition" FROM "MaterialMove"
      WHERE "materialId" = m.id AND "toUnitId" IS NOT NULL ORDER BY "movedAt" DESC, id DESC LIMIT 1
    ) last
    WHERE here."toUnitId" = ${unitId}::uuid AND m."collectionId" = ${collectionId}::uuid
      AND m.custody IN ('on-loan', 'missing') AND last."toUnitId" = ${unitId}::uuid`;
  if (last.length === 0) return [];
  const ids = last.map((row) => row.materialId);
  const materials = await readOccupants(tx, Prisma.sql`m.id = ANY(${ids}::uuid[])`);
  const positions = new Map(last.map((row) => [row.materialId, row.position]));
  return materials.map((material) => ({ material, position: positions.get(material.id) ?? null }));
}

/** The place in words that a material last had. */
export async function findLastPlace(tx: Tx, materialId: string): Promise<string | null> {
  const move = await tx.materialMove.findFirst({
    where: { materialId, toPath: { not: null } },
    orderBy: [{ movedAt: 'desc' }, { id: 'desc' }],
  });
  return move?.toPath ?? null;
}

export const findMoves = (tx: Tx, materialId: string) =>
  tx.materialMove.findMany({
    where: { materialId },
    orderBy: [{ movedAt: 'desc' }, { id: 'desc' }],
    take: 200,
  });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
