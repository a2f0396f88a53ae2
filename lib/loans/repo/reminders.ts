import 'server-only';
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
