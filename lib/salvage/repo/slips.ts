import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';

const withUse = {
  _count: { select: { salvages: true } },
  salvages: { select: { loggedAt: true }, orderBy: { loggedAt: 'desc' }, take: 1 },
} as const;

/** One more slip than the page holds, newest first. */
export function findSlips(collectionId: string, { after, size }: PageQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return db().dropOffSlip.findMany({
    where: {
      collectionId,
      OR:
        last === undefined
          ? undefined
          : [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }],
    },
    include: withUse,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}
export type SlipFound = Awaited<ReturnType<typeof findSlips>>[number];

export const findSlip = (tx: Tx, collectionId: string, id: string) =>
  tx.dropOffSlip.findFirst({ where: { id, collectionId }, include: withUse });

/** The slip behind a token, whatever its collection: the token is the only way in. */
export const findSlipByDigest = (tokenDigest: string) =>
  db().dropOffSlip.findFirst({ where: { tokenDigest, revokedAt: null } });

export const insertSlip = (
  tx: Tx,
  data: { id: string; collectionId: string; label: string; tokenDigest: string; createdById: string },
) => tx.dropOffSlip.create({ data, include: withUse });

/** Revokes a slip; 0 when it was revoked before. */
export async function revokeSlip(tx: Tx, id: string, at: Date, byId: string): Promise<number> {
  const { count } = await tx.dropOffSlip.updateMany({
    where: { id, revokedAt: null },
    data: { revokedAt: at, revokedById: byId },
  });
  return count;
}
