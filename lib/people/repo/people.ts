import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { endSessionsOf } from '@/lib/platform/identity/sessions';
import { readCursor } from '@/lib/platform/paging';
import type { Role } from '@/lib/platform/permissions';
import { type PeopleQuery, PURPOSES } from '../schema';

/** One more person of the collection than the page holds, by name. */
export function findPeople(collectionId: string, { q, after, size }: PeopleQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([z.string(), z.uuid()]));
  return db().person.findMany({
    where: {
      memberships: { some: { collectionId } },
      AND: [
        q === undefined
          ? {}
          : { OR: [{ name: { contains: q, mode: 'insensitive' } }, { email: { contains: q } }] },
        last === undefined ? {} : { OR: [{ name: { gt: last[0] } }, { name: last[0], id: { gt: last[1] } }] },
      ],
    },
    include: { memberships: { where: { collectionId } } },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take: size + 1,
  });
}

export const findPerson = (tx: Tx, collectionId: string, id: string) =>
  tx.person.findFirst({
    where: { id, memberships: { some: { collectionId } } },
    include: { memberships: { where: { collectionId } }, secondFactor: { select: { confirmedAt: true } } },
  });

export const findPersonByEmail = (tx: Tx, email: string) => tx.person.findUnique({ where: { email } });

export const countOtherAdministrators = (tx: Tx, collectionId: string, personId: string) =>
  tx.membership.count({
    where: { collectionId, role: 'administrator', personId: { not: personId }, person: { active: true } },
  });

export const insertPerson = (tx: Tx, data: { name: string; email: string; passwordDigest?: string }) =>
  tx.person.create({ data });

export async function replaceRoles(tx: Tx, collectionId: string, personId: string, roles: readonly Role[]) {
  await tx.membership.deleteMany({ where: { collectionId, personId } });
  await tx.membership.createMany({ data: roles.map((role) => ({ collectionId, personId, role })) });
}

/** Ends every session of a person at once. */
export async function raiseEpoch(
  tx: Tx,
  id: string,
  data: { active?: boolean; passwordDigest?: string } = {},
): Promise<void> {
  await endSessionsOf(tx, id);
  await tx.person.update({
    where: { id },
    data: { ...data, sessionEpoch: { increment: 1 }, version: { increment: 1 } },
  });
}

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

export const insertCollection = (tx: Tx, data: { name: string; code: string; timeZone: string }) =>
  tx.collection.create({ data });

export async function insertLink(
  tx: Tx,
  data: { purpose: string; tokenDigest: string; collectionId: string; personId: string; expiresAt: Date },
) {
  await tx.accessLink.updateMany({
    where: { personId: data.personId, purpose: { in: [...PURPOSES] }, usedAt: null },
    data: { usedAt: new Date(0) },
  });
  await tx.accessLink.create({ data });
}

/** An open link for one of these purposes. */
export const findLink = (tx: Tx, tokenDigest: string, at: Date, purposes: readonly string[]) =>
  tx.accessLink.findFirst({
    where: { tokenDigest, purpose: { in: [...purposes] }, usedAt: null, expiresAt: { gt: at } },
  });

/** Uses a link up; 0 when somebody else did a moment ago. */
export async function consumeLink(tx: Tx, id: string, at: Date): Promise<number> {
  return (await tx.accessLink.updateMany({ where: { id, usedAt: null }, data: { usedAt: at } })).count;
}

export const findFactor = (tx: Tx, personId: string) => tx.secondFactor.findUnique({ where: { personId } });

/** Keeps a secret that is to be confirmed, unless there is one already. */
export const putPendingFactor = (tx: Tx, personId: string, secret: string) =>
  tx.secondFactor.upsert({ where: { personId }, create: { personId, secret }, update: {} });

export const confirmFactor = async (tx: Tx, personId: string, at: Date): Promise<number> =>
  (await tx.secondFactor.updateMany({ where: { personId, confirmedAt: null }, data: { confirmedAt: at } }))
    .count;

export async function replaceRecoveryCodes(tx: Tx, personId: string, digests: readonly string[]) {
  await tx.recoveryCode.deleteMany({ where: { personId } });
  await tx.recoveryCode.createMany({ data: digests.map((digest) => ({ personId, digest })) });
}

/** Takes a confirmed second factor away with its codes; 0 when there was none. */
export async function dropFactor(tx: Tx, personId: string): Promise<number> {
  await tx.recoveryCode.deleteMany({ where: { personId } });
  return (await tx.secondFactor.deleteMany({ where: { personId, confirmedAt: { not: null } } })).count;
}

export const hasRolesElsewhere = async (tx: Tx, collectionId: string, personId: string): Promise<boolean> =>
  (await tx.membership.count({ where: { personId, collectionId: { not: collectionId } } })) > 0;
