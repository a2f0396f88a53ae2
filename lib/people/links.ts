import 'server-only';
import { randomBytes } from 'node:crypto';
import { systemActor } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { AppError, type FieldProblem, notValid } from '@/lib/platform/errors';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { digestToken } from '@/lib/platform/identity/tokens';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { peopleEvents } from './events';
import { type PasswordOwner, passwordProblem } from './passwords';
import {
  consumeLink,
  findCollection,
  findLink,
  findPerson,
  findPersonByEmail,
  insertCollection,
  insertLink,
  insertPerson,
  raiseEpoch,
  replaceRoles,
} from './repo/people';
import { type LinkUse, PURPOSES, type Purpose } from './schema';

const VALID_HOURS: Record<Purpose, number> = {
  'first-administrator': 24,
  invitation: 7 * 24,
  'password-reset': 24,
};

/** A one-time link for a person, inside the caller's transaction. The token itself is shown once and kept nowhere. */
export async function offerLink(
  work: Work,
  personId: string,
  purpose: Purpose,
): Promise<{ link: string; expiresAt: string }> {
  const token = randomBytes(24).toString('base64url');
  const expiresAt = new Date(work.now.getTime() + VALID_HOURS[purpose] * 3_600_000);
  await insertLink(work.db, {
    purpose,
    personId,
    tokenDigest: digestToken(token),
    collectionId: work.actor.collectionId,
    expiresAt,
  });
  return { link: `/set-up/${token}`, expiresAt: expiresAt.toISOString() };
}

const ended = () =>
  new AppError(
    'not-found',
    say('This link was used already or has ended. Ask an administrator for a new one.'),
  );

/** What a link is for, for the page behind it. @throws AppError not-found when it has ended. */
export async function describeLink(token: string): Promise<{ purpose: Purpose; name: string | null }> {
  const link = await findLink(db(), digestToken(token), now(), PURPOSES);
  if (link === null) throw ended();
  const person =
    link.personId === null || link.collectionId === null
      ? null
      : await findPerson(db(), link.collectionId, link.personId);
  return { purpose: link.purpose as Purpose, name: person?.name ?? null };
}

/** Sets the password of an invited or returning person, or founds the collection with its first administrator. */
export async function acceptLink(use: LinkUse): Promise<{ email: string }> {
  const link = await findLink(db(), digestToken(use.token), now(), PURPOSES);
  if (link === null) throw ended();
  const passwordDigest = await hashPassword(use.password);
  if (link.purpose === 'first-administrator') return foundCollection(link.id, use, passwordDigest);
  const { collectionId, personId } = link;
  if (collectionId === null || personId === null) throw ended();
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const person = await findPerson(work.db, collectionId, personId);
    if (person === null || (await consumeLink(work.db, link.id, work.now)) === 0) throw ended();
    const { name: institution } = await findCollection(work.db, collectionId);
    refuseWeak(use.password, { ...person, institution });
    await raiseEpoch(work.db, personId, { passwordDigest });
    const kind = link.purpose === 'invitation' ? 'people.joined' : 'people.password-set';
    work.audit(
      peopleEvents.make(kind, { subjectType: 'person', subjectId: personId }, { person: person.name }),
    );
    return { email: person.email };
  });
}

async function foundCollection(
  linkId: string,
  use: LinkUse,
  passwordDigest: string,
): Promise<{ email: string }> {
  const { collection, name, email } = use;
  const missing: FieldProblem[] = [];
  if (name === undefined) missing.push({ path: 'name', message: say('Write your name.') });
  if (email === undefined) missing.push({ path: 'email', message: say('Write your e-mail address.') });
  if (collection === undefined) missing.push({ path: 'collection', message: say('Name the collection.') });
  if (name === undefined || email === undefined || collection === undefined) {
    throw notValid(say('Something is missing.'), missing);
  }
  refuseWeak(use.password, { email, name, institution: collection.name });
  // The collection's id is needed before its first transaction: every event belongs to a collection.
  const made = await db().$transaction(async (tx) => {
    if ((await consumeLink(tx, linkId, now())) === 0) throw ended();
    if ((await findPersonByEmail(tx, email)) !== null)
      throw notValid(say('This e-mail has an account already.'));
    const founded = await insertCollection(tx, collection);
    const person = await insertPerson(tx, { name, email: email.toLowerCase(), passwordDigest });
    await replaceRoles(tx, founded.id, person.id, ['administrator']);
    return { collectionId: founded.id, personId: person.id };
  });
  await withTx({ actor: systemActor(made.collectionId) }, async (work) => {
    work.audit(
      peopleEvents.make(
        'people.collection-founded',
        { subjectType: 'collection', subjectId: made.collectionId },
        { name: collection.name, code: collection.code },
      ),
    );
    work.audit(
      peopleEvents.make(
        'people.joined',
        { subjectType: 'person', subjectId: made.personId },
        { person: name },
      ),
    );
    // The checklists' own stage hears of it by its job.
    work.enqueue('taxa.load-starter', { collectionId: made.collectionId });
  });
  return { email };
}

function refuseWeak(password: string, owner: PasswordOwner): void {
  const problem = passwordProblem(password, owner);
  if (problem !== null) throw notValid(problem, [{ path: 'password', message: problem }]);
}
