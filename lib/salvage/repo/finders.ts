import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

const withFinds = {
  salvages: {
    orderBy: { number: 'asc' },
    include: {
      bird: { select: { id: true, state: true } },
      custody: { orderBy: [{ at: 'asc' }, { id: 'asc' }] },
      holds: { where: { liftedAt: null }, select: { id: true } },
    },
  },
} satisfies Prisma.FinderInclude;

/**
 * A finder and others on file who give the same e-mail or telephone: most likely one person, who found birds more than
 * once. With their finds, oldest first.
 */
export const findSameFinders = (
  tx: Tx,
  collectionId: string,
  finder: { id: string; email: string | null; phone: string | null },
) =>
  tx.finder.findMany({
    where: {
      collectionId,
      OR: [
        { id: finder.id },
        ...(finder.email === null ? [] : [{ email: { equals: finder.email, mode: 'insensitive' as const } }]),
        ...(finder.phone === null ? [] : [{ phone: finder.phone }]),
      ],
    },
    include: withFinds,
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });
export type FinderWithFinds = Awaited<ReturnType<typeof findSameFinders>>[number];

/** Finders with contact data, none of whose finds or birds has an event since an instant. */
export async function findQuietFinders(
  tx: Tx,
  collectionId: string,
  since: Date,
): Promise<FinderWithFinds[]> {
  const ids = await tx.$queryRaw<{ id: string }[]>`
    SELECT f.id::text FROM "Finder" f
    WHERE f."collectionId" = ${collectionId}::uuid AND f."createdAt" < ${since}
      AND num_nonnulls(f.email, f.phone, f.address) > 0
      AND NOT EXISTS (
        SELECT 1 FROM "SalvageRecord" s LEFT JOIN "Bird" b ON b."salvageId" = s.id
        JOIN "AuditEvent" e ON e."subjectId" = s.id OR e."birdId" = b.id
        WHERE s."finderId" = f.id AND e.at >= ${since})
    ORDER BY f.id`;
  return tx.finder.findMany({ where: { id: { in: ids.map(({ id }) => id) } }, include: withFinds });
}

/** Takes contact data away, with the name too in an erasure; 0 when nothing is left to take. */
export async function dropFinderData(
  tx: Tx,
  id: string,
  how: { erasedAt: Date } | { contactExpiredAt: Date },
): Promise<number> {
  const kept =
    'erasedAt' in how
      ? { erasedAt: null }
      : { OR: [{ email: { not: null } }, { phone: { not: null } }, { address: { not: null } }] };
  const { count } = await tx.finder.updateMany({
    where: { id, ...kept },
    data: { email: null, phone: null, address: null, ...('erasedAt' in how ? { name: null } : {}), ...how },
  });
  return count;
}

export const listCollectionIds = (tx: Tx) => tx.collection.findMany({ select: { id: true } });
