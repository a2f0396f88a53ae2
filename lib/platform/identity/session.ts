import 'server-only';
import { headers } from 'next/headers';
import { getServerSession } from 'next-auth';
import { cache } from 'react';
import type { Actor } from '../actor';
import { actorIn, findActingPerson } from './acting-person';
import { authOptions } from './auth';
import { actorOfToken, readBearer } from './tokens';

/**
 * The signed-in person, or the person for whom a bearer token acts (a request with a token is never helped by a
 * session), checked against the database on each request: a revoked session, a deactivated account or a
 * changed role takes effect at once. Null when nobody is signed in.
 */
export const currentActor = cache(async (): Promise<Actor | null> => {
  const bearer = readBearer((await headers()).get('authorization'));
  if (bearer !== null) return actorOfToken(bearer);
  const session = await getServerSession(authOptions());
  const user = session?.user as { id?: string; epoch?: number; collectionId?: string } | undefined;
  if (user?.id === undefined) return null;
  return actorOf(user.id, user.epoch ?? -1, user.collectionId);
});

/** An actor from the database, or null when the session's epoch is stale or the person may do nothing. */
export async function actorOf(personId: string, epoch: number, collectionId?: string): Promise<Actor | null> {
  const person = await findActingPerson(personId);
  if (person === null || person.sessionEpoch !== epoch) return null;
  const chosen = collectionId ?? person.memberships[0]?.collectionId;
  return chosen === undefined ? null : actorIn(person, chosen);
}
