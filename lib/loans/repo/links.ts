import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';

const withLoan = { loan: { select: { id: true, number: true, state: true } } } as const;

/** One more link than the page holds, newest first. */
export function findLinks(collectionId: string, { after, size }: PageQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return db().loanLink.findMany({
    where: {
      collectionId,
      OR:
        last === undefined
          ? undefined
          : [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }],
    },
    include: withLoan,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}
export type FoundLink = Awaited<ReturnType<typeof findLinks>>[number];

export const findLink = (tx: Tx, collectionId: string, id: string) =>
  tx.loanLink.findFirst({ where: { id, collectionId }, include: withLoan });

/** The link behind a token while it is good, whatever its collection: the token is the only way in. */
export const findLinkByDigest = (tx: Tx, tokenDigest: string, at: Date) =>
  tx.loanLink.findFirst({
    where: { tokenDigest, revokedAt: null, expiresAt: { gt: at } },
    include: withLoan,
  });

export const insertLink = (
  tx: Tx,
  data: {
    collectionId: string;
    label: string;
    tokenDigest: string;
    createdById: string;
    createdAt: Date;
    expiresAt: Date;
  },
) => tx.loanLink.create({ data, include: withLoan });

/** Ends a link; 0 when it was ended before. */
export async function revokeLink(tx: Tx, id: string, at: Date, byId: string): Promise<number> {
  const { count } = await tx.loanLink.updateMany({
    where: { id, revokedAt: null },
    data: { revokedAt: at, revokedById: byId },
  });
  return count;
}

/** Gives a link its one request; 0 when it has one, has ended or was taken back a moment ago. */
export async function claimLink(
  tx: Tx,
  id: string,
  use: { loanId: string; sentAt: Date; requestKey: string; wanted: readonly string[] },
): Promise<number> {
  const { count } = await tx.loanLink.updateMany({
    where: { id, loanId: null, revokedAt: null, expiresAt: { gt: use.sentAt } },
    data: { ...use, wanted: [...use.wanted] },
  });
  return count;
}
