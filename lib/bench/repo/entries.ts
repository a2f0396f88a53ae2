import 'server-only';
import type { FieldId } from '@/lib/bench/fields';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';

/** Which of these deliveries arrived before. */
export async function findKnownKeys(tx: Tx, recordId: string, keys: readonly string[]): Promise<Set<string>> {
  const rows = await tx.benchEntry.findMany({
    where: { recordId, clientKey: { in: [...keys] } },
    select: { clientKey: true },
  });
  return new Set(rows.flatMap(({ clientKey }) => clientKey ?? []));
}

export const findCurrentEntries = (tx: Tx, recordId: string, fields: readonly FieldId[]) =>
  tx.benchEntry.findMany({ where: { recordId, field: { in: [...fields] }, supersededAt: null } });

/** Everything that was ever written, in the order of arrival; of one field when it is named. */
export const findEntries = (tx: Tx, recordId: string, field?: FieldId) =>
  tx.benchEntry.findMany({ where: { recordId, field }, orderBy: { seq: 'asc' } });

/** How many earlier entries each field has. */
export async function countEarlier(tx: Tx, recordId: string): Promise<Map<string, number>> {
  const rows = await tx.benchEntry.groupBy({
    by: ['field'],
    where: { recordId, supersededAt: { not: null } },
    _count: true,
  });
  return new Map(rows.map(({ field, _count }) => [field, _count]));
}

export interface EntryRow {
  field: FieldId;
  value: unknown;
  unit: string | null;
  verbatim: string | null;
  method: string | null;
  enteredAt: Date;
  enteredById: string;
  clientKey: string | null;
  /** False: it was superseded before it arrived, or by a later one of the same delivery. */
  current: boolean;
  outranked: boolean;
  undoesId: string | null;
}

/** Appends entries; where one of them holds now, the entry that held before is marked as superseded. */
export async function appendEntries(
  tx: Tx,
  recordId: string,
  entries: readonly EntryRow[],
  at: Date,
): Promise<void> {
  const superseding = entries.filter(({ current }) => current).map(({ field }) => field);
  await tx.benchEntry.updateMany({
    where: { recordId, field: { in: superseding }, supersededAt: null },
    data: { supersededAt: at },
  });
  await tx.benchEntry.createMany({
    data: entries.map(({ current, value, ...entry }) => ({
      ...entry,
      recordId,
      value: value === null ? Prisma.JsonNull : (value as Prisma.InputJsonValue),
      supersededAt: current ? null : at,
    })),
  });
}
