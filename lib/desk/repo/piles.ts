import 'server-only';
import { db } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';

/** How many of a pile are shown; its list shows the rest. */
export const SHOWN = 6;

/** The rows of a pile by id, in its order: what stands around them is read of these alone, not of all that wait. */
const among = (rows: readonly { id: string }[]) => ({ id: { in: rows.map(({ id }) => id) } });

/** No officer has ruled on the coverage. */
export const UNRULED: Prisma.SalvageRecordWhereInput = { coverageRuling: { equals: Prisma.DbNull } };

export async function findBirds(
  collectionId: string,
  where: Prisma.BirdWhereInput,
  orderBy: Prisma.BirdOrderByWithRelationInput,
) {
  const scoped = { collectionId, ...where };
  const [total, first] = await Promise.all([
    db().bird.count({ where: scoped }),
    db().bird.findMany({ where: scoped, select: { id: true }, orderBy, take: SHOWN }),
  ]);
  const rows = await db().bird.findMany({
    where: among(first),
    include: {
      taxon: true,
      bench: { select: { id: true } },
      salvage: { select: { verbatimTaxon: true } },
      materials: { where: { kind: 'carcass' }, include: { placement: { include: { unit: true } } } },
    },
    orderBy,
  });
  return { total, rows };
}

export async function findBenchRecords(collectionId: string, where: Prisma.BenchRecordWhereInput) {
  const scoped = { collectionId, ...where };
  const orderBy = [{ sentAt: 'asc' }, { startedAt: 'asc' }] as const;
  const [total, first] = await Promise.all([
    db().benchRecord.count({ where: scoped }),
    db().benchRecord.findMany({ where: scoped, select: { id: true }, orderBy: [...orderBy], take: SHOWN }),
  ]);
  const rows = await db().benchRecord.findMany({
    where: among(first),
    include: { bird: { include: { taxon: true, salvage: { select: { verbatimTaxon: true } } } } },
    orderBy: [...orderBy],
  });
  return { total, rows };
}

export async function findSalvages(collectionId: string, where: Prisma.SalvageRecordWhereInput) {
  const scoped = { collectionId, ...where };
  const orderBy = { loggedAt: 'asc' } as const;
  const [total, first] = await Promise.all([
    db().salvageRecord.count({ where: scoped }),
    db().salvageRecord.findMany({ where: scoped, select: { id: true }, orderBy, take: SHOWN }),
  ]);
  const rows = await db().salvageRecord.findMany({
    where: among(first),
    include: { taxon: true, holds: { where: { liftedAt: null } } },
    orderBy,
  });
  return { total, rows };
}

export async function findOverdueSteps(collectionId: string, at: Date) {
  const where = { endedAt: null, dueAt: { lt: at }, material: { collectionId } };
  const [total, rows] = await Promise.all([
    db().processStep.count({ where }),
    db().processStep.findMany({
      where,
      include: { material: { include: { bird: { include: { taxon: true, catalogue: true } } } } },
      orderBy: { dueAt: 'asc' },
      take: SHOWN,
    }),
  ]);
  return { total, rows };
}

export async function findLoans(collectionId: string, where: Prisma.LoanWhereInput) {
  const scoped = { collectionId, ...where };
  const [total, rows] = await Promise.all([
    db().loan.count({ where: scoped }),
    db().loan.findMany({
      where: scoped,
      include: { borrower: true },
      orderBy: [{ dueOn: { sort: 'asc', nulls: 'last' } }, { askedOn: 'asc' }],
      take: SHOWN,
    }),
  ]);
  return { total, rows };
}

export async function findPermits(collectionId: string, before: Date, after: Date) {
  const where = { collectionId, expiresOn: { gte: after, lte: before }, replacedBy: { none: {} } };
  const rows = await db().permit.findMany({ where, orderBy: { expiresOn: 'asc' }, take: SHOWN });
  return { total: await db().permit.count({ where }), rows };
}

export async function findOpenReports(collectionId: string) {
  const where = { collectionId, state: { in: ['open', 'ready'] } };
  const rows = await db().permitReport.findMany({
    where,
    include: { permit: true },
    orderBy: { toOn: 'asc' },
    take: SHOWN,
  });
  return { total: await db().permitReport.count({ where }), rows };
}
