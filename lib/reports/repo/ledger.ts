import 'server-only';
import { dateColumn } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

const counted = {
  id: true,
  number: true,
  specimenType: true,
  quantity: true,
  verbatimTaxon: true,
  foundFrom: true,
  foundTo: true,
  country: true,
  stateProvince: true,
  county: true,
  cause: true,
  bandNumber: true,
  bandReportedOn: true,
  finderId: true,
  loggedById: true,
  loggedAt: true,
  coverageDetail: true,
  coverageRuling: true,
  taxon: { select: { scientificName: true } },
  accession: { select: { kind: true, source: true, agreement: true, receivedOn: true } },
  bird: {
    select: {
      frozenAt: true,
      disposition: true,
      disposedOn: true,
      dispositionDetail: true,
      bench: { select: { startedAt: true, finishedAt: true } },
      catalogue: { select: { number: true, approvedAt: true } },
      determinations: {
        select: { id: true, taxonId: true, verbatim: true, determinedOn: true, recordedAt: true },
        orderBy: { recordedAt: 'asc' },
      },
      materials: {
        select: {
          kind: true,
          custody: true,
          state: true,
          createdAt: true,
          loanLines: {
            where: { sentAt: { not: null } },
            select: {
              id: true,
              sentAt: true,
              outcome: true,
              outcomeAt: true,
              loan: { select: { borrower: { select: { institution: true } } } },
            },
          },
        },
      },
    },
  },
} satisfies Prisma.SalvageRecordSelect;

export type CountedBird = Prisma.SalvageRecordGetPayload<{ select: typeof counted }>;

/** Every bird that a permit counts and that was found by the closing day, with all that happened to it. */
export const findCountedBirds = (
  tx: Tx,
  collectionId: string,
  permitId: string,
  untilOn: string,
): Promise<CountedBird[]> =>
  tx.salvageRecord.findMany({
    where: { collectionId, permitId, state: { not: 'declined' }, foundTo: { lte: dateColumn(untilOn) } },
    select: counted,
    orderBy: { number: 'asc' },
  });

export async function findTaxonNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const taxa = await tx.taxon.findMany({
    where: { id: { in: [...new Set(ids.filter((id) => id !== null))] } },
    select: { id: true, scientificName: true },
  });
  return new Map(taxa.map(({ id, scientificName }) => [id, scientificName]));
}

/** Names of the finders on file of these salvage records; erased ones are left out. */
export async function findFinderNames(
  tx: Tx,
  collectionId: string,
  salvageIds: readonly string[],
): Promise<Map<string, string>> {
  const rows = await tx.$queryRaw<{ id: string; name: string }[]>`
    SELECT s.id, f.name FROM "SalvageRecord" s JOIN "Finder" f ON f.id = s."finderId"
    WHERE s."collectionId" = ${collectionId}::uuid AND s.id = ANY(${[...salvageIds]}::uuid[])
      AND f."erasedAt" IS NULL AND f.name IS NOT NULL`;
  return new Map(rows.map(({ id, name }) => [id, name]));
}

export const findTimeZone = async (tx: Tx, collectionId: string): Promise<string> =>
  (await tx.collection.findUniqueOrThrow({ where: { id: collectionId }, select: { timeZone: true } }))
    .timeZone;
