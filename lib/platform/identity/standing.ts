import 'server-only';
import type { Actor } from '../actor';
import { now } from '../clock';
import { db } from '../db';
import { actorIn, findActingPerson } from './acting-person';
import { sessionStands } from './sessions';

/**
 * Whether somebody who was let in may still be here: the account is open and has a role in the collection, the session
 * or token that let them in has not ended. It is asked for answers that go on; asking counts as no use of the session,
 * so that a page which only listens is left idle like any other.
 */
export async function stillStands({ personId, collectionId, letInBy }: Actor): Promise<boolean> {
  if (personId === null || letInBy === undefined) return false;
  const person = await findActingPerson(personId);
  if (person === null || actorIn(person, collectionId) === null) return false;
  if ('session' in letInBy)
    return person.sessionEpoch === letInBy.epoch && sessionStands(letInBy.session, personId);
  const token = await db().apiToken.findUnique({ where: { id: letInBy.token } });
  return token !== null && token.revokedAt === null && token.expiresAt > now();
}
