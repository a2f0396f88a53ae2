import 'server-only';
import { dateColumn } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';

/** Every bird that a permit counts and that was found by the closing day, with all that happened to it. */
export function findCountedBirds(tx: Tx, collectionId: string, permitId: string, untilOn: string) {
  return tx.salvageRecord.findMany({
    where: { collectionId, permitId, state: { not: 'declined' }, foundTo: { lte: dateColumn(untilOn) } },
    include: {
      taxon: { select: { scientificName: true } },
      accession: { select: { kind: true, source: true, receivedOn: true, createdAt: true } },
      bird: {
        include: {
          bench: { select: { finishedAt: true, state: true } },
          catalogue: { select: { number: true, approvedAt: true } },
          determinations: { orderBy: { recordedAt: 'asc' } },
          materials: {
            select: {
              kind: true,
              custody: true,
              state: true,
              createdAt: true,
              loanLines: {
                where: { sentAt: { not: null } },
                include: { loan: { include: { borrower: true } } },
              },
            },
          },
        },
      },
    },
    orderBy: { number: 'asc' },
  });
}
export type CountedBird = Awaited<ReturnType<typeof findCountedBirds>>[number];

export async function findTaxonNames(tx: Tx, ids: readonly string[]): Promise<Map<string, string>> {
  const taxa = await tx.taxon.findMany({
    where: { id: { in: [...new Set(ids)] } },
    select: { id: true, scientificName: true },
  });
  return new Map(taxa.map(({ id, scientificName }) => [id, scientificName]));
}
