import 'server-only';
import { randomBytes } from 'node:crypto';
import { authorise, type CommandContext, personOf, systemActor } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { AppError, conflict, forbidden, notFound, notValid } from '@/lib/platform/errors';
import { hashPassword, verifyPassword } from '@/lib/platform/identity/passwords';
import { makeRecoveryCodes } from '@/lib/platform/identity/recovery-codes';
import { seal, unseal } from '@/lib/platform/identity/sealed';
import {
  countAttempt,
  ENROLMENT_PURPOSE,
  offerEnrolment,
  spendStep,
} from '@/lib/platform/identity/second-factor';
import { digestToken } from '@/lib/platform/identity/tokens';
import { base32, enrolmentAddress, matchingStep } from '@/lib/platform/identity/totp';
import { paths } from '@/lib/platform/paths';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { peopleEvents } from './events';
import {
  confirmFactor,
  consumeLink,
  dropFactor,
  findFactor,
  findLink,
  findPerson,
  putPendingFactor,
  raiseEpoch,
  replaceRecoveryCodes,
} from './repo/people';
import type { EnrolmentConfirmation, PersonRecord } from './schema';
import { showPerson } from './service';

const SECRET_BYTES = 20;
const subject = (id: string, reason?: string) => ({ subjectType: 'person', subjectId: id, reason });

const ended = () =>
  new AppError('not-found', say('This link was used already or has ended. Sign in again to get a new one.'));

async function openLink(token: string) {
  const tokenDigest = digestToken(token);
  const link = await findLink(db(), tokenDigest, now(), [ENROLMENT_PURPOSE]);
  if (link === null || link.personId === null || link.collectionId === null) throw ended();
  const person = await findPerson(db(), link.collectionId, link.personId);
  if (person === null || !person.active) throw ended();
  return { link, person, collectionId: link.collectionId };
}

/**
 * What the page behind an enrolment link shows. The secret is made when the page is first opened and stays the same
 * until it is confirmed. @throws AppError not-found when the link has ended.
 */
export async function describeEnrolment(
  token: string,
): Promise<{ address: string; secret: string; name: string }> {
  const { person } = await openLink(token);
  await putPendingFactor(db(), person.id, seal(randomBytes(SECRET_BYTES), person.id));
  const factor = await findFactor(db(), person.id);
  if (factor === null || factor.confirmedAt !== null) throw ended();
  const secret = unseal(factor.secret, person.id);
  if (secret === null) throw new Error('A pending second factor cannot be unsealed.');
  return { address: enrolmentAddress(person.email, secret), secret: base32(secret), name: person.name };
}

/** Confirms with a first code that the app has the secret. Returns the recovery codes, which are shown this once. */
export async function confirmEnrolment({ token, code }: EnrolmentConfirmation): Promise<{ codes: string[] }> {
  const { link, person, collectionId } = await openLink(token);
  await countAttempt(person.id);
  const factor = await findFactor(db(), person.id);
  const secret = factor === null || factor.confirmedAt !== null ? null : unseal(factor.secret, person.id);
  if (secret === null) throw ended();
  const step = matchingStep(secret, code.replace(/\s/g, ''), now());
  if (step === null) {
    const message = say(
      'This is not the code the app shows now. Check that the clock of the phone is right.',
    );
    throw notValid(message, [{ path: 'code', message }]);
  }
  const codes = makeRecoveryCodes();
  const digests = await Promise.all(codes.map(hashPassword));
  await withTx({ actor: systemActor(collectionId) }, async (work) => {
    if ((await consumeLink(work.db, link.id, work.now)) === 0) throw ended();
    if ((await confirmFactor(work.db, person.id, work.now)) === 0) throw ended();
    await spendStep(work.db, person.id, step);
    await replaceRecoveryCodes(work.db, person.id, digests);
    await raiseEpoch(work.db, person.id);
    work.audit(peopleEvents.make('people.second-factor-set', subject(person.id), { person: person.name }));
  });
  return { codes };
}

/** A link to set one's own second factor up, for somebody who knows the password again. */
export async function beginEnrolment(context: CommandContext, password: string): Promise<{ link: string }> {
  const { actor } = context;
  if (actor.scopes !== undefined)
    throw forbidden(say('A token cannot set up a second factor; sign in to do that.'));
  const person = await findPerson(db(), actor.collectionId, personOf(actor));
  if (person === null) throw notFound(say('This person'));
  await countAttempt(person.id);
  if (!(await verifyPassword(person.passwordDigest, password))) {
    const message = say('This is not your password.');
    throw notValid(message, [{ path: 'password', message }]);
  }
  if ((await findFactor(db(), person.id))?.confirmedAt)
    throw conflict(say('You have a second factor already. An administrator can reset it.'));
  return { link: paths.secondFactorSetUp(await offerEnrolment(db(), person)) };
}

/** Takes somebody's second factor and recovery codes away and ends their sessions: for a lost phone. */
export async function resetSecondFactor(
  context: CommandContext,
  id: string,
  reason: string,
): Promise<PersonRecord> {
  authorise(context.actor, 'people.manage');
  await withTx(context, async (work) => {
    const person = await findPerson(work.db, work.actor.collectionId, id);
    if (person === null) throw notFound(say('This person'));
    if ((await dropFactor(work.db, id)) === 0) throw conflict(say('This person has no second factor.'));
    await raiseEpoch(work.db, id);
    work.audit(peopleEvents.make('people.second-factor-reset', subject(id, reason), { person: person.name }));
  });
  return showPerson(context.actor, id);
}

/** Whether the acting person has a second factor. */
export async function hasSecondFactor(personId: string): Promise<boolean> {
  return (await findFactor(db(), personId))?.confirmedAt != null;
}
