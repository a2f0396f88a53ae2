import 'server-only';
import { db } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

/**
 * The catalogued bird with the most to tell a newcomer: the latest one with something on the shelf, else the latest;
 * never one of a sensitive taxon. Null in a collection that has none yet.
 */
export async function findBirdToFollow(collectionId: string) {
  const catalogued: Prisma.BirdWhereInput = {
    collectionId,
    catalogue: { isNot: null },
    salvage: { accessionId: { not: null } },
    taxon: { sensitive: false },
  };
  const find = (where: Prisma.BirdWhereInput) =>
    db().bird.findFirst({
      where,
      select: { id: true, number: true, taxon: true, catalogue: { select: { number: true } } },
      orderBy: [{ catalogue: { approvedAt: 'desc' } }, { id: 'asc' }],
    });
  const shelved: Prisma.MaterialListRelationFilter = {
    some: { kind: { in: ['skin', 'skeleton'] }, state: 'shelved', custody: 'on-shelf' },
  };
  return (await find({ ...catalogued, materials: shelved })) ?? find(catalogued);
}
