import 'server-only';
import { dateColumn } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

/** The frozen ledger is large: it is read only where it is needed. */
const plain = { include: { permit: true }, omit: { frozen: true } } satisfies Prisma.PermitReportDefaultArgs;
export type FoundReport = Prisma.PermitReportGetPayload<typeof plain>;
type Permit = FoundReport['permit'];

export const findReport = (tx: Tx, collectionId: string, id: string): Promise<FoundReport | null> =>
  tx.permitReport.findFirst({ where: { id, collectionId }, ...plain });

export const findReports = (collectionId: string): Promise<FoundReport[]> =>
  db().permitReport.findMany({
    where: { collectionId },
    ...plain,
    orderBy: [{ toOn: 'desc' }, { permit: { number: 'asc' } }, { edition: 'desc' }],
    take: 200,
  });

/** Permit and period of every report there is. */
export const findReportPeriods = (collectionId: string) =>
  db().permitReport.findMany({
    where: { collectionId, edition: 1 },
    select: { permitId: true, fromOn: true, toOn: true },
  });

export const findEditions = (
  tx: Tx,
  report: Pick<FoundReport, 'permitId' | 'fromOn' | 'toOn'>,
): Promise<FoundReport[]> =>
  tx.permitReport.findMany({
    where: { permitId: report.permitId, fromOn: report.fromOn, toOn: report.toOn },
    ...plain,
    orderBy: { edition: 'asc' },
  });

export async function findFrozen(tx: Tx, id: string): Promise<unknown> {
  return (await tx.permitReport.findUnique({ where: { id }, select: { frozen: true } }))?.frozen ?? null;
}

/** Every report that was ever signed, of every collection, one after the other: each is large. */
export async function* readSigned() {
  const kept = await db().permitReport.findMany({
    where: { state: { in: ['signed', 'amended'] } },
    select: { id: true },
    orderBy: { signedAt: 'asc' },
  });
  for (const { id } of kept) {
    yield await db().permitReport.findUniqueOrThrow({ where: { id }, include: { permit: true } });
  }
}

/** The latest edition ever signed for the period that ends on this day. */
export const findPreviousSigned = (tx: Tx, permitId: string, lastDay: string) =>
  tx.permitReport.findFirst({
    where: { permitId, toOn: dateColumn(lastDay), state: { in: ['signed', 'amended'] } },
    orderBy: { edition: 'desc' },
    select: { id: true, frozen: true },
  });

export const insertReport = (tx: Tx, data: Prisma.PermitReportUncheckedCreateInput): Promise<FoundReport> =>
  tx.permitReport.create({ data, ...plain });

/** Changes a report if its version is still the one the person saw; 0 when it is not. */
export async function updateReport(
  tx: Tx,
  where: { id: string; version: number; state: { in: string[] } },
  data: Prisma.PermitReportUncheckedUpdateManyInput,
): Promise<number> {
  const { count } = await tx.permitReport.updateMany({ where, data: { ...data, version: { increment: 1 } } });
  return count;
}

export const findPermits = (collectionId: string): Promise<Permit[]> =>
  db().permit.findMany({ where: { collectionId }, orderBy: { number: 'asc' } });

export const findPermit = (tx: Tx, collectionId: string, id: string): Promise<Permit | null> =>
  tx.permit.findFirst({ where: { id, collectionId } });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
