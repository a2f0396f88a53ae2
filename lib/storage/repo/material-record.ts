import 'server-only';
import { db } from '@/lib/platform/db';

/** Everything the page of one material shows, in one load. */
export function findMaterialRecord(collectionId: string, id: string) {
  return db().material.findFirst({
    where: { id, collectionId },
    include: {
      placement: { include: { unit: true } },
      parent: true,
      steps: { orderBy: [{ startedAt: 'desc' }, { id: 'desc' }] },
      moves: { orderBy: { movedAt: 'desc' }, take: 200 },
      loanLines: { where: { sentAt: { not: null }, outcome: null }, include: { loan: true } },
      bird: {
        include: {
          taxon: true,
          catalogue: true,
          bench: { select: { preparatorId: true, scribeId: true } },
          salvage: { select: { verbatimTaxon: true } },
          materials: { where: { id: { not: id } }, orderBy: { createdAt: 'asc' } },
        },
      },
    },
  });
}
