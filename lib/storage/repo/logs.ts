import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

export const findLogs = (tx: Tx, collectionId: string, unitIds: readonly string[]) =>
  tx.temperatureLog.findMany({
    where: { collectionId, unitId: { in: [...unitIds] } },
    orderBy: { fromAt: 'desc' },
    take: 50,
  });
export type LogRecord = Awaited<ReturnType<typeof findLogs>>[number];

export const findLog = (tx: Tx, collectionId: string, id: string) =>
  tx.temperatureLog.findFirst({ where: { id, collectionId } });

/** A log of the freezer that covers part of this stretch of time. */
export const findOverlap = (tx: Tx, unitId: string, from: Date, to: Date) =>
  tx.temperatureLog.findFirst({ where: { unitId, fromAt: { lte: to }, toAt: { gte: from } } });

export const insertLog = (tx: Tx, data: Prisma.TemperatureLogUncheckedCreateInput) =>
  tx.temperatureLog.create({ data });
