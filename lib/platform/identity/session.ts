import 'server-only';
import { getServerSession } from 'next-auth';
import { cache } from 'react';
import type { Actor } from '../actor';
import { db } from '../db';
import { ROLES, type Role } from '../permissions';
import { authOptions } from './auth';

/**
 * The signed-in person, checked against the database on each request: a revoked session, a deactivated account or a
 * changed role takes effect at once. Null when nobody is signed in.
 */
export const currentActor = cache(async (): Promise<Actor | null> => {
  const session = await getServerSession(authOptions());
  const user = session?.user as { id?: string; epoch?: number; collectionId?: string } | undefined;
  if (user?.id === undefined) return null;
  return actorOf(user.id, user.epoch ?? -1, user.collectionId);
});

/** An actor from the database, or null when the session's epoch is stale or the person may do nothing. */
export async function actorOf(personId: string, epoch: number, collectionId?: string): Promise<Actor | null> {
  const person = await db().person.findUnique({ where: { id: personId }, include: { memberships: true } });
  if (person === null || !person.active || person.sessionEpoch !== epoch) return null;
  const chosen = collectionId ?? person.memberships[0]?.collectionId;
  const roles = person.memberships
    .filter((membership) => membership.collectionId === chosen)
    .map((membership) => membership.role)
    .filter((role): role is Role => (ROLES as readonly string[]).includes(role));
  if (chosen === undefined || roles.length === 0) return null;
  return { personId: person.id, name: person.name, collectionId: chosen, roles };
}
