import 'server-only';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

const withBird = {
  vial: true,
  placement: { include: { unit: true } },
  bird: {
    include: {
      taxon: true,
      catalogue: { select: { number: true } },
      salvage: { include: { holds: { where: { liftedAt: null } } } },
    },
  },
  loanLines: {
    where: { outcome: null, loan: { state: { notIn: ['closed', 'declined'] } } },
    include: { loan: { select: { id: true, number: true } } },
  },
} satisfies Prisma.MaterialInclude;

/** A material with what says whether it may be lent. */
export type LendableMaterial = Prisma.MaterialGetPayload<{ include: typeof withBird }>;

/** Locks materials in one order, so that two loans of the same ones cannot pass each other. */
export async function lockMaterials(
  tx: Tx,
  collectionId: string,
  ids: readonly string[],
): Promise<LendableMaterial[]> {
  await tx.$queryRaw`SELECT id FROM "Material" WHERE id = ANY(${[...ids]}::uuid[])
    AND "collectionId" = ${collectionId}::uuid ORDER BY id FOR UPDATE`;
  return tx.material.findMany({
    where: { id: { in: [...ids] }, collectionId },
    include: withBird,
    orderBy: { id: 'asc' },
  });
}

/** Materials of these birds, or the one with this suffix of them. */
export const findMaterialsOf = (
  collectionId: string,
  birdIds: readonly string[],
  suffix: string | null,
): Promise<LendableMaterial[]> =>
  db().material.findMany({
    where: {
      collectionId,
      birdId: { in: [...birdIds] },
      ...(suffix === null ? {} : { suffix }),
      custody: { notIn: ['used-up', 'deaccessioned'] },
    },
    include: withBird,
    orderBy: [{ bird: { number: 'desc' } }, { suffix: 'asc' }],
    take: 500,
  });

export const findVialByCode = (collectionId: string, code: string): Promise<LendableMaterial[]> =>
  db().material.findMany({
    where: { collectionId, vial: { code } },
    include: withBird,
    take: 1,
  });

/** Which of these places on shelves are taken, and by what. */
export async function findTaken(
  tx: Tx,
  unitId: string,
  position: string | null,
): Promise<{ suffix: string; bird: { number: string; catalogue: { number: string } | null } } | null> {
  if (position === null) return null;
  const placement = await tx.placement.findFirst({
    where: { unitId, position },
    select: {
      material: {
        select: {
          suffix: true,
          bird: { select: { number: true, catalogue: { select: { number: true } } } },
        },
      },
    },
  });
  return placement?.material ?? null;
}

/** Names of shelf places, by the id of their unit. */
export async function findPaths(tx: Tx, unitIds: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(unitIds.filter((id): id is string => id !== null))];
  const units = await tx.storageUnit.findMany({
    where: { id: { in: wanted } },
    select: { id: true, path: true },
  });
  return new Map(units.map(({ id, path }) => [id, path]));
}

/** Writes what a grant used of a vial; the caller has asked the rules of tissues what is left. */
export async function recordVialUse(
  tx: Tx,
  use: {
    vialId: string;
    /** Null where a vial that was never measured was used up. */
    amount: number | null;
    unit: string | null;
    left: number | null;
    purpose: string;
    usedAt: Date;
    usedById: string;
  },
): Promise<void> {
  const { left, ...taken } = use;
  await tx.vialUse.create({ data: taken });
  if (left !== null) await tx.vial.update({ where: { materialId: use.vialId }, data: { amountLeft: left } });
}

/** Which lists of protected species are loaded, and which of these names stand in them. */
export async function findListed(
  tx: Tx,
  collectionId: string,
  names: readonly string[],
): Promise<{ loaded: string[]; listed: string[] }> {
  const lists = await tx.statusList.findMany({ where: { collectionId }, select: { id: true, key: true } });
  const rows = await tx.statusListRow.findMany({
    where: { listId: { in: lists.map(({ id }) => id) }, scientificName: { in: [...names] } },
    select: { listId: true },
    distinct: ['listId'],
  });
  const keyOf = new Map(lists.map(({ id, key }) => [id, key]));
  return {
    loaded: [...new Set(keyOf.values())],
    listed: [...new Set(rows.flatMap(({ listId }) => keyOf.get(listId) ?? []))],
  };
}
