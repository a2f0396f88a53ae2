import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';

export const listCollections = () =>
  db().collection.findMany({ select: { id: true }, orderBy: { id: 'asc' } });

/** Loans of which something is out and that have a due date. */
export const findOut = (tx: Tx, collectionId: string) =>
  tx.loan.findMany({
    where: { collectionId, state: { in: ['sent', 'received', 'partly-back'] }, dueOn: { not: null } },
    include: { borrower: true },
    orderBy: { id: 'asc' },
  });

/** Keys of the reminders that were sent for these loans, by loan. */
export async function findSentKeys(tx: Tx, loanIds: readonly string[]): Promise<Map<string, string[]>> {
  const events = await tx.auditEvent.findMany({
    where: { subjectType: 'loan', subjectId: { in: [...loanIds] }, kind: 'loans.reminded' },
    select: { subjectId: true, payload: true },
  });
  const keys = new Map<string, string[]>();
  for (const { subjectId, payload } of events) {
    const { key } = z.object({ key: z.string() }).parse(payload);
    keys.set(subjectId, [...(keys.get(subjectId) ?? []), key]);
  }
  return keys;
}
