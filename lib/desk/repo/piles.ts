import 'server-only';
import { db } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';

/** How many of a pile are shown; its list shows the rest. */
export const SHOWN = 6;

/** How many a pile has: where all of it is shown, nobody counts. */
export const totalOf = (shown: readonly unknown[], count: () => Promise<number>): number | Promise<number> =>
  shown.length < SHOWN ? shown.length : count();

type WithId = { id: string };

/**
 * The rows of a pile, in its order: what stands around them is read of these alone, not of all that wait. An empty pile
 * asks no more.
 */
export const rowsOf = <Row>(
  first: readonly WithId[],
  read: (among: { id: { in: string[] } }) => Promise<Row[]>,
): Row[] | Promise<Row[]> => (first.length === 0 ? [] : read({ id: { in: first.map(({ id }) => id) } }));

/** No officer has ruled on the coverage. */
export const UNRULED: Prisma.SalvageRecordWhereInput = { coverageRuling: { equals: Prisma.DbNull } };

const named = {
  taxon: { select: { scientificName: true } },
  salvage: { select: { verbatimTaxon: true } },
} satisfies Prisma.BirdSelect;

export async function findBirds(
  collectionId: string,
  where: Prisma.BirdWhereInput,
  orderBy: Prisma.BirdOrderByWithRelationInput,
) {
  const scoped = { collectionId, ...where };
  const first = await db().bird.findMany({ where: scoped, select: { id: true }, orderBy, take: SHOWN });
  const [total, rows] = await Promise.all([
    totalOf(first, () => db().bird.count({ where: scoped })),
    rowsOf(first, (among) =>
      db().bird.findMany({
        where: among,
        select: {
          id: true,
          number: true,
          state: true,
          priority: true,
          ...named,
          bench: { select: { id: true } },
          materials: {
            where: { kind: 'carcass' },
            select: { placement: { select: { position: true, unit: { select: { path: true } } } } },
          },
        },
        orderBy,
      }),
    ),
  ]);
  return { total, rows };
}

export async function findBenchRecords(collectionId: string, where: Prisma.BenchRecordWhereInput) {
  const scoped = { collectionId, ...where };
  const orderBy: Prisma.BenchRecordOrderByWithRelationInput[] = [{ sentAt: 'asc' }, { startedAt: 'asc' }];
  const first = await db().benchRecord.findMany({
    where: scoped,
    select: { id: true },
    orderBy,
    take: SHOWN,
  });
  const [total, rows] = await Promise.all([
    totalOf(first, () => db().benchRecord.count({ where: scoped })),
    rowsOf(first, (among) =>
      db().benchRecord.findMany({
        where: among,
        select: { id: true, prepNumber: true, reviewRemarks: true, sentAt: true, bird: { select: named } },
        orderBy,
      }),
    ),
  ]);
  return { total, rows };
}

export async function findSalvages(collectionId: string, where: Prisma.SalvageRecordWhereInput) {
  const scoped = { collectionId, ...where };
  const orderBy = { loggedAt: 'asc' } as const;
  const first = await db().salvageRecord.findMany({
    where: scoped,
    select: { id: true },
    orderBy,
    take: SHOWN,
  });
  const [total, rows] = await Promise.all([
    totalOf(first, () => db().salvageRecord.count({ where: scoped })),
    rowsOf(first, (among) =>
      db().salvageRecord.findMany({
        where: among,
        select: {
          id: true,
          number: true,
          verbatimTaxon: true,
          county: true,
          foundFrom: true,
          receivedOn: true,
          coverage: true,
          taxon: { select: { scientificName: true } },
          holds: { where: { liftedAt: null }, select: { reason: true } },
        },
        orderBy,
      }),
    ),
  ]);
  return { total, rows };
}

export async function findOverdueSteps(collectionId: string, at: Date) {
  const where = { endedAt: null, dueAt: { lt: at }, material: { collectionId } };
  const rows = await db().processStep.findMany({
    where,
    select: {
      id: true,
      step: true,
      dueAt: true,
      material: {
        select: {
          id: true,
          suffix: true,
          bird: {
            select: {
              number: true,
              taxon: { select: { scientificName: true } },
              catalogue: { select: { number: true } },
            },
          },
        },
      },
    },
    orderBy: { dueAt: 'asc' },
    take: SHOWN,
  });
  return { total: await totalOf(rows, () => db().processStep.count({ where })), rows };
}

export async function findLoans(collectionId: string, where: Prisma.LoanWhereInput) {
  const scoped = { collectionId, ...where };
  const rows = await db().loan.findMany({
    where: scoped,
    select: {
      id: true,
      number: true,
      state: true,
      purpose: true,
      dueOn: true,
      borrower: { select: { institution: true } },
    },
    orderBy: [{ dueOn: { sort: 'asc', nulls: 'last' } }, { askedOn: 'asc' }],
    take: SHOWN,
  });
  return { total: await totalOf(rows, () => db().loan.count({ where: scoped })), rows };
}

export async function findPermits(collectionId: string, before: Date, after: Date) {
  const where = { collectionId, expiresOn: { gte: after, lte: before }, replacedBy: { none: {} } };
  const rows = await db().permit.findMany({
    where,
    select: { id: true, number: true, authority: true, expiresOn: true },
    orderBy: { expiresOn: 'asc' },
    take: SHOWN,
  });
  return { total: await totalOf(rows, () => db().permit.count({ where })), rows };
}

export async function findOpenReports(collectionId: string) {
  const where = { collectionId, state: { in: ['open', 'ready'] } };
  const rows = await db().permitReport.findMany({
    where,
    select: { id: true, state: true, fromOn: true, toOn: true, permit: { select: { number: true } } },
    orderBy: { toOn: 'asc' },
    take: SHOWN,
  });
  return { total: await totalOf(rows, () => db().permitReport.count({ where })), rows };
}
