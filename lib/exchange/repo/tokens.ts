import 'server-only';
import type { Tx } from '@/lib/platform/db';

export const findTokens = (tx: Tx, collectionId: string) =>
  tx.apiToken.findMany({
    where: { collectionId },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: 500,
  });

export const findToken = (tx: Tx, collectionId: string, id: string) =>
  tx.apiToken.findFirst({ where: { id, collectionId } });

/** People of the collection with an open account, and the roles they have in it. */
export const findPeople = (tx: Tx, collectionId: string) =>
  tx.person.findMany({
    where: { active: true, memberships: { some: { collectionId } } },
    select: { id: true, name: true, memberships: { where: { collectionId }, select: { role: true } } },
    orderBy: { name: 'asc' },
  });

export const namePeople = (tx: Tx, ids: readonly string[]) =>
  tx.person.findMany({ where: { id: { in: [...new Set(ids)] } }, select: { id: true, name: true } });

export const insertToken = (
  tx: Tx,
  data: {
    collectionId: string;
    personId: string;
    name: string;
    tokenDigest: string;
    scopes: string[];
    expiresAt: Date;
  },
) => tx.apiToken.create({ data });

/** Ends a token; 0 when it had ended. */
export async function revokeToken(tx: Tx, id: string, at: Date): Promise<number> {
  const { count } = await tx.apiToken.updateMany({ where: { id, revokedAt: null }, data: { revokedAt: at } });
  return count;
}
