import 'server-only';
import { db } from '@/lib/platform/db';

/** Everything a bird's page shows, in one load. */
export function findBird(collectionId: string, id: string) {
  return db().bird.findFirst({
    where: { id, collectionId },
    include: {
      taxon: true,
      salvage: { include: { permit: true, accession: true, holds: { where: { liftedAt: null } } } },
      bench: true,
      catalogue: true,
      bones: { select: { place: true, state: true } },
      materials: {
        orderBy: { createdAt: 'asc' },
        include: {
          placement: { include: { unit: true } },
          steps: { orderBy: { startedAt: 'asc' } },
          loanLines: {
            where: { sentAt: { not: null } },
            include: { loan: true },
            orderBy: { sentAt: 'desc' },
            take: 5,
          },
        },
      },
    },
  });
}
export type FoundBird = NonNullable<Awaited<ReturnType<typeof findBird>>>;

/** The first event of each kind in a bird's story: who did it and when. */
export function findMarks(collectionId: string, birdId: string, salvageId: string) {
  return db().auditEvent.findMany({
    where: { collectionId, OR: [{ birdId }, { subjectType: 'salvage', subjectId: salvageId }] },
    select: { kind: true, at: true, actorName: true, subjectId: true },
    orderBy: { seq: 'asc' },
  });
}

export async function findNames(ids: readonly (string | null | undefined)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => typeof id === 'string'))];
  if (wanted.length === 0) return new Map();
  const people = await db().person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
