import 'server-only';
import { dateColumn } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

const withPermit = { permit: true } satisfies Prisma.PermitReportInclude;
export type FoundReport = Prisma.PermitReportGetPayload<{ include: typeof withPermit }>;

export const findReport = (tx: Tx, collectionId: string, id: string): Promise<FoundReport | null> =>
  tx.permitReport.findFirst({ where: { id, collectionId }, include: withPermit });

export const findReports = (collectionId: string): Promise<FoundReport[]> =>
  db().permitReport.findMany({
    where: { collectionId },
    include: withPermit,
    orderBy: [{ toOn: 'desc' }, { edition: 'desc' }],
    take: 200,
  });

export const findEditions = (tx: Tx, report: Pick<FoundReport, 'permitId' | 'fromOn' | 'toOn'>) =>
  tx.permitReport.findMany({
    where: { permitId: report.permitId, fromOn: report.fromOn, toOn: report.toOn },
    orderBy: { edition: 'asc' },
  });

/** The latest signed edition for the period that ends the day before this one begins. */
export const findPreviousSigned = (tx: Tx, permitId: string, lastDay: string) =>
  tx.permitReport.findFirst({
    where: { permitId, toOn: dateColumn(lastDay), state: 'signed' },
    orderBy: { edition: 'desc' },
  });

export const insertReport = (tx: Tx, data: Prisma.PermitReportUncheckedCreateInput) =>
  tx.permitReport.create({ data });

/** Changes a report if its version is still the one the person saw; 0 when it is not. */
export async function updateReport(
  tx: Tx,
  where: { id: string; version: number; state: { in: string[] } },
  data: Prisma.PermitReportUncheckedUpdateManyInput,
): Promise<number> {
  const { count } = await tx.permitReport.updateMany({ where, data: { ...data, version: { increment: 1 } } });
  return count;
}

export const findPermits = (collectionId: string) =>
  db().permit.findMany({ where: { collectionId }, orderBy: { number: 'asc' } });

export const findPermit = (tx: Tx, collectionId: string, id: string) =>
  tx.permit.findFirst({ where: { id, collectionId } });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
