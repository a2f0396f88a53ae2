import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { withPlace } from './materials';

/** What a place on a box map shows of a material: there are up to a hundred of them, so no more is read. */
const asOccupant = {
  id: true,
  birdId: true,
  suffix: true,
  kind: true,
  state: true,
  custody: true,
  description: true,
  bird: withPlace.bird,
  placement: { select: { position: true, placedAt: true } },
  vial: { select: { code: true, tissues: true, filledById: true } },
} satisfies Prisma.MaterialSelect;

export type OccupantRow = Prisma.MaterialGetPayload<{ select: typeof asOccupant }>;

/** Materials that lie directly in a unit. */
export const findOccupants = (tx: Tx, unitId: string): Promise<OccupantRow[]> =>
  tx.material.findMany({
    where: { placement: { unitId } },
    select: asOccupant,
    orderBy: [{ bird: { number: 'asc' } }, { suffix: 'asc' }],
  });

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
  // Asked for nothing, all the tables of a material would be asked all the same.
  if (last.length === 0) return [];
  const materials = await tx.material.findMany({
    where: { id: { in: last.map((row) => row.materialId) } },
    select: asOccupant,
  });
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
