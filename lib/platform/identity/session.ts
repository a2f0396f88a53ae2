import 'server-only';
import { headers } from 'next/headers';
import { cache } from 'react';
import { z } from 'zod';
import type { Actor } from '../actor';
import { actorIn } from './acting-person';
import { openSessionToken, sessionCookie } from './session-token';
import { personInSession } from './sessions';
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
  const given = await headers();
  const bearer = readBearer(given.get('authorization'));
  if (bearer !== null) return actorOfToken(bearer);
  const cookie = sessionCookie(given.get('cookie') ?? '');
  const token = cookie === null ? null : await openSessionToken(cookie.value);
  const claims = sessionClaims.safeParse(token === null ? null : { ...token, id: token.sub });
  return claims.success ? actorOf(claims.data) : null;
});

/** An actor from the database, or null when the session has ended, its epoch is stale or the person may do nothing. */
export async function actorOf(claims: SessionClaims): Promise<Actor | null> {
  const person = await personInSession(claims, claims);
  if (person === null) return null;
  const chosen = claims.collectionId ?? person.memberships[0]?.collectionId;
  const actor = chosen === undefined ? null : actorIn(person, chosen);
  return actor && { ...actor, letInBy: { session: claims.session, epoch: claims.epoch } };
}
