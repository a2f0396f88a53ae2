import 'server-only';
import { createHash, randomBytes } from 'node:crypto';
import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { systemActor } from '../actor';
import { now } from '../clock';
import { db, type Tx } from '../db';
import { settings } from '../env';
import { AppError } from '../errors';
import { defineEvents } from '../events';
import type { Role } from '../permissions';
import { consumeAttempt, forgiveAttempts } from '../rate-limit';
import { withTx } from '../tx';
import { verifyPassword } from './passwords';
import { readRecoveryCode } from './recovery-codes';
import { unseal } from './sealed';
import { CODE_ASKED, ENROL_FIRST } from './sign-in-words';
import { matchingStep } from './totp';

/** Who must have a second factor where REQUIRE_SECOND_FACTOR is set. */
export const REQUIRED_OF: readonly Role[] = ['administrator', 'permit-officer'];
const LIMIT = { points: 6, seconds: 15 * 60 };
const ENROLMENT_MINUTES = 15;
export const ENROLMENT_PURPOSE = 'second-factor';

const events = defineEvents({
  'people.recovery-code-used': z.object({ person: z.string(), left: z.number().int() }),
});

export type Factored = {
  id: string;
  name: string;
  memberships: readonly { collectionId: string; role: string }[];
};

/**
 * Asked after the password was right. Returns when the person has no second factor and needs none, or gave a code that
 * was never used.
 * @throws AppError not-signed-in with what the sign-in page must ask for, or why the code is refused; too-many.
 */
export async function checkSecondFactor(person: Factored, code: string): Promise<void> {
  const factor = await db().secondFactor.findUnique({ where: { personId: person.id } });
  if (factor === null || factor.confirmedAt === null) {
    const required = person.memberships.some(({ role }) => (REQUIRED_OF as readonly string[]).includes(role));
    if (!required || !settings().REQUIRE_SECOND_FACTOR) return;
    throw new AppError('not-signed-in', `${ENROL_FIRST}${await offerEnrolment(db(), person)}`);
  }
  const typed = code.trim();
  if (typed === '') throw new AppError('not-signed-in', CODE_ASKED);
  await countAttempt(person.id);
  const digits = typed.replace(/\s/g, '');
  const secret = unseal(factor.secret, person.id);
  const step = secret === null ? null : matchingStep(secret, digits, now());
  const passed =
    step === null ? await tryRecoveryCode(person, typed) : await spendStep(db(), person.id, step);
  if (!passed)
    throw new AppError(
      'not-signed-in',
      say('This code is not right, or was used already. Wait for the next one.'),
    );
  await forgiveAttempts(attemptKey(person.id), LIMIT);
}

const attemptKey = (personId: string) => `second-factor:${personId}`;

/** Counts an attempt at a code, whoever makes it and from wherever. @throws AppError too-many. */
export async function countAttempt(personId: string): Promise<void> {
  const wait = await consumeAttempt(attemptKey(personId), LIMIT);
  if (wait > 0)
    throw new AppError('too-many', say('Too many attempts. Wait {wait} seconds and try again.', { wait }));
}

/** Uses a step up; false when this or a later one was used before, also by somebody at the same moment. */
export async function spendStep(tx: Tx, personId: string, step: number): Promise<boolean> {
  const { count } = await tx.secondFactor.updateMany({
    where: { personId, lastStep: { lt: step } },
    data: { lastStep: step },
  });
  return count === 1;
}

async function tryRecoveryCode(person: Factored, typed: string): Promise<boolean> {
  const code = readRecoveryCode(typed);
  if (code === null) return false;
  const kept = await db().recoveryCode.findMany({ where: { personId: person.id, usedAt: null } });
  for (const { id, digest } of kept) {
    if (await verifyPassword(digest, code)) return spend(person, id);
  }
  return false;
}

/** One of several sign-ins with the same code at the same moment gets it. */
async function spend(person: Factored, id: string): Promise<boolean> {
  const collectionId = person.memberships[0]?.collectionId;
  if (collectionId === undefined) return false;
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const { count } = await work.db.recoveryCode.updateMany({
      where: { id, usedAt: null },
      data: { usedAt: work.now },
    });
    if (count === 0) return false;
    const left = await work.db.recoveryCode.count({ where: { personId: person.id, usedAt: null } });
    const subject = { subjectType: 'person', subjectId: person.id };
    work.audit(events.make('people.recovery-code-used', subject, { person: person.name, left }));
    return true;
  });
}

/** A link, good for a quarter of an hour and once, behind which this person sets a second factor up. Gives its token. */
export async function offerEnrolment(tx: Tx, person: Factored): Promise<string> {
  const token = randomBytes(24).toString('base64url');
  const at = now();
  await tx.accessLink.updateMany({
    where: { personId: person.id, purpose: ENROLMENT_PURPOSE, usedAt: null },
    data: { usedAt: new Date(0) },
  });
  // A secret that an earlier page showed and nobody confirmed may have been seen by others.
  await tx.secondFactor.deleteMany({ where: { personId: person.id, confirmedAt: null } });
  await tx.accessLink.create({
    data: {
      purpose: ENROLMENT_PURPOSE,
      personId: person.id,
      collectionId: person.memberships[0]?.collectionId ?? null,
      tokenDigest: createHash('sha256').update(token).digest('hex'),
      expiresAt: new Date(at.getTime() + ENROLMENT_MINUTES * 60_000),
    },
  });
  return token;
}
