import 'server-only';
import { createHash, randomBytes } from 'node:crypto';
import { say } from '@/lib/platform/words/say';
import type { Actor } from '../actor';
import { now } from '../clock';
import { db } from '../db';
import { AppError } from '../errors';
import { consumeAttempt } from '../rate-limit';
import { actorIn, findActingPerson } from './acting-person';

const LIMIT = { points: 600, seconds: 60 };
const NOTED_EVERY_MS = 60_000;

/** The token of an Authorization header; null without a bearer token. */
export function readBearer(header: string | null): string | null {
  const [scheme, token] = (header ?? '').trim().split(/\s+/);
  return scheme?.toLowerCase() === 'bearer' && token !== undefined ? token : null;
}

export const digestToken = (token: string): string => createHash('sha256').update(token).digest('hex');

/** A new secret; only its digest is ever kept. */
export const makeToken = (): string => `furcula_${randomBytes(32).toString('base64url')}`;

/**
 * The person for whom a token acts, with the roles they have now and the token's scopes; null when the token is unknown,
 * expired or revoked, or the person may do nothing any more.
 * @throws AppError too-many with the seconds to wait.
 */
export async function actorOfToken(token: string): Promise<Actor | null> {
  const kept = await db().apiToken.findUnique({ where: { tokenDigest: digestToken(token) } });
  const at = now();
  if (kept === null || kept.revokedAt !== null || kept.expiresAt <= at) return null;
  const wait = await consumeAttempt(`token:${kept.id}`, LIMIT);
  if (wait > 0) throw new AppError('too-many', say('Too many requests. Wait {wait} seconds.', { wait }));
  const person = await findActingPerson(kept.personId);
  const actor = person === null ? null : actorIn(person, kept.collectionId);
  if (actor === null) return null;
  if (kept.lastUsedAt === null || at.getTime() - kept.lastUsedAt.getTime() > NOTED_EVERY_MS)
    await db().apiToken.update({ where: { id: kept.id }, data: { lastUsedAt: at } });
  return {
    ...actor,
    name: `${actor.name} (token ${kept.name})`,
    scopes: kept.scopes,
    letInBy: { token: kept.id },
  };
}
