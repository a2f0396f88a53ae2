import 'server-only';
import type { Tx } from '@/lib/platform/db';

const ofBird = { taxon: true, catalogue: true } as const;

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

/** Salvage records, by their own ids or those of their birds, with what tags and bags say of them. */
export const findFinds = (tx: Tx, collectionId: string, ids: readonly string[]) =>
  tx.salvageRecord.findMany({
    where: { collectionId, OR: [{ id: { in: [...ids] } }, { bird: { id: { in: [...ids] } } }] },
    include: {
      taxon: true,
      permit: true,
      holds: { where: { liftedAt: null }, orderBy: { placedAt: 'asc' } },
      bird: { include: { ...ofBird, bench: true } },
    },
  });
export type FoundFind = Awaited<ReturnType<typeof findFinds>>[number];

/** Materials of one kind, by id or by the units in which they lie. */
export const findMaterials = (
  tx: Tx,
  collectionId: string,
  kind: 'vial' | 'skeleton',
  where: { ids: readonly string[] } | { unitIds: readonly string[] },
) =>
  tx.material.findMany({
    where: {
      collectionId,
      kind,
      ...('ids' in where
        ? { id: { in: [...where.ids] } }
        : { placement: { unitId: { in: [...where.unitIds] } } }),
    },
    include: {
      vial: true,
      placement: true,
      boxCounts: { orderBy: { countedAt: 'desc' }, take: 1 },
      bird: { include: { ...ofBird, salvage: true, bench: true, bones: true } },
    },
    orderBy: [{ bird: { number: 'asc' } }, { suffix: 'asc' }],
  });
export type FoundMaterial = Awaited<ReturnType<typeof findMaterials>>[number];

export async function findNames(
  tx: Tx,
  ids: readonly (string | null | undefined)[],
): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => typeof id === 'string'))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
