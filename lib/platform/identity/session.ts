import 'server-only';
import { headers } from 'next/headers';
import { getServerSession } from 'next-auth';
import { cache } from 'react';
import { z } from 'zod';
import type { Actor } from '../actor';
import { actorIn, findActingPerson } from './acting-person';
import { authOptions } from './auth';
import { admitToSession } from './sessions';
import { actorOfToken, readBearer } from './tokens';

/** What a browser's token says: who, since which epoch, in which collection, by which session. */
const sessionClaims = z.object({
  id: z.uuid(),
  epoch: z.int(),
  collectionId: z.uuid().optional(),
  session: z.uuid(),
  turn: z.int(),
});
export type SessionClaims = z.infer<typeof sessionClaims>;

/**
 * The signed-in person, or the person for whom a bearer token acts (a request with a token is never helped by a
 * session), checked against the database on each request: a revoked session, a deactivated account or a
 * changed role takes effect at once. Null when nobody is signed in.
 */
export const currentActor = cache(async (): Promise<Actor | null> => {
  const bearer = readBearer((await headers()).get('authorization'));
  if (bearer !== null) return actorOfToken(bearer);
  const session = await getServerSession(authOptions());
  const claims = sessionClaims.safeParse(session?.user);
  return claims.success ? actorOf(claims.data) : null;
});

/** An actor from the database, or null when the session has ended, its epoch is stale or the person may do nothing. */
export async function actorOf(claims: SessionClaims): Promise<Actor | null> {
  const person = await findActingPerson(claims.id);
  if (person === null || person.sessionEpoch !== claims.epoch) return null;
  if (!(await admitToSession(claims, person.id))) return null;
  const chosen = claims.collectionId ?? person.memberships[0]?.collectionId;
  return chosen === undefined ? null : actorIn(person, chosen);
}
