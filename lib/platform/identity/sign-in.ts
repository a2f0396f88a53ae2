import 'server-only';
import { db } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import { consumeAttempt, forgiveAttempts } from '@/lib/platform/rate-limit';
import { unfitPart } from '@/lib/platform/wire-text';
import { say } from '@/lib/platform/words/say';
import { verifyPassword } from './passwords';
import { checkSecondFactor } from './second-factor';

export type Identity = { id: string; email: string; name: string; epoch: number; collectionId?: string };

/**
 * The person whose e-mail and password these are, or null. Attempts are limited per address and account together, so
 * that a stranger cannot lock somebody out from elsewhere.
 * @throws AppError too-many with the seconds to wait, not-signed-in when a code is asked for or refused.
 */
export async function checkPassword(input: {
  email: string;
  password: string;
  /** Of the second factor; empty until it is asked for. */
  code: string;
  address: string;
}): Promise<Identity | null> {
  const email = input.email.trim().toLowerCase();
  if (unfitPart([email, input.password, input.code, input.address]) !== null) return null;
  const key = `sign-in:${input.address}:${email}`;
  const waitSeconds = await consumeAttempt(key);
  if (waitSeconds > 0) {
    throw new AppError(
      'too-many',
      say('Too many attempts. Wait {waitSeconds} seconds and try again.', { waitSeconds }),
    );
  }
  const person = await db().person.findUnique({
    where: { email },
    include: { memberships: { orderBy: { createdAt: 'asc' } } },
  });
  const matches = await verifyPassword(person?.passwordDigest ?? null, input.password);
  if (!matches || person === null || !person.active) return null;
  await checkSecondFactor(person, input.code);
  await forgiveAttempts(key);
  await db().person.update({ where: { id: person.id }, data: { lastSignInAt: new Date() } });
  return identityOf(email);
}

/** Whether an account proved by the institution's identity provider is known and active here. */
export async function admitExternalAccount(email: string | null): Promise<boolean> {
  return email !== null && (await identityOf(email)) !== null;
}

/** What a session carries of a person; null when unknown or inactive. */
export async function identityOf(email: string): Promise<Identity | null> {
  const person = await db().person.findUnique({
    where: { email: email.trim().toLowerCase() },
    include: { memberships: { orderBy: { createdAt: 'asc' } } },
  });
  if (person === null || !person.active) return null;
  return {
    id: person.id,
    email: person.email,
    name: person.name,
    epoch: person.sessionEpoch,
    collectionId: person.memberships[0]?.collectionId,
  };
}
