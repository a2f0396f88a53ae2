import 'server-only';
import { type Actor, authorise, type CommandContext, unkept } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may, type Role } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { peopleEvents } from './events';
import { offerLink } from './links';
import {
  countOtherAdministrators,
  findPeople,
  findPerson,
  findPersonByEmail,
  insertPerson,
  raiseEpoch,
  replaceRoles,
} from './repo/people';
import { rolesProblem } from './rules';
import type { Invitation, PeopleQuery, PersonRecord, PersonRow } from './schema';

type Found = NonNullable<Awaited<ReturnType<typeof findPerson>>>;

export async function listPeople(
  actor: Actor,
  query: PeopleQuery,
): Promise<{ rows: PersonRow[]; next: string | null }> {
  authorise(actor, 'people.manage');
  const { rows, next } = cutPage(await findPeople(actor.collectionId, query), query.size, (row) =>
    writeCursor([row.name, row.id]),
  );
  return { rows: rows.map(toRow), next };
}

export async function showPerson(actor: Actor, id: string): Promise<PersonRecord> {
  authorise(actor, 'people.manage');
  const found = await findPerson(db(), actor.collectionId, id);
  if (found === null) throw notFound(say('This person'));
  return toRecord(actor, found);
}

const subject = (id: string, reason?: string) => ({ subjectType: 'person', subjectId: id, reason });

async function load(work: Work, id: string): Promise<Found> {
  const found = await findPerson(work.db, work.actor.collectionId, id);
  if (found === null) throw notFound(say('This person'));
  if (found.erasedAt !== null)
    throw conflict(say('The data of this person were erased; the account stays closed.'));
  return found;
}

/** Adds a person with roles and makes the one-time link with which they set their password. */
export async function invitePerson(context: CommandContext, { name, email, roles }: Invitation) {
  authorise(context.actor, 'people.manage');
  return withTx(unkept(context), async (work) => {
    if ((await findPersonByEmail(work.db, email)) !== null) {
      throw notValid(say('Somebody with this e-mail has an account already.'), [
        { path: 'email', message: say('Choose the person in the list and change the roles instead.') },
      ]);
    }
    const made = await insertPerson(work.db, { name, email: email.toLowerCase() });
    await replaceRoles(work.db, work.actor.collectionId, made.id, roles);
    work.audit(peopleEvents.make('people.invited', subject(made.id), { person: name, roles }));
    const link = await offerLink(work, made.id, 'invitation');
    return { ...link, person: toRecord(work.actor, await load(work, made.id)) };
  });
}

/** Makes a one-time link to set a new password; earlier links of the person end. */
export async function offerPasswordReset(context: CommandContext, id: string) {
  authorise(context.actor, 'people.manage');
  return withTx(unkept(context), async (work) => {
    const person = await load(work, id);
    work.audit(peopleEvents.make('people.reset-offered', subject(id), { person: person.name }));
    return { ...(await offerLink(work, id, 'password-reset')), person: toRecord(work.actor, person) };
  });
}

/** Gives a person exactly these roles; it takes effect with their next request. */
export async function changeRoles(
  context: CommandContext,
  id: string,
  { roles, reason }: { roles: Role[]; reason: string },
): Promise<PersonRecord> {
  authorise(context.actor, 'people.manage');
  return withTx(context, async (work) => {
    const person = await load(work, id);
    const before = rolesOf(person);
    if (roles.length === 0) throw notValid(say('Choose at least one role, or close the account instead.'));
    const problem = rolesProblem({
      own: id === work.actor.personId,
      before,
      after: roles,
      otherAdministrators: await countOtherAdministrators(work.db, work.actor.collectionId, id),
    });
    if (problem !== null) throw conflict(problem);
    await replaceRoles(work.db, work.actor.collectionId, id, roles);
    work.audit(
      peopleEvents.make('people.roles-changed', subject(id, reason), {
        person: person.name,
        from: before,
        to: roles,
      }),
    );
    return toRecord(work.actor, await load(work, id));
  });
}

/** Opens or closes an account. Closing ends every session. */
export async function changeActive(
  context: CommandContext,
  id: string,
  { active, reason }: { active: boolean; reason: string },
): Promise<PersonRecord> {
  authorise(context.actor, 'people.manage');
  return withTx(context, async (work) => {
    const person = await load(work, id);
    const problem = active
      ? null
      : rolesProblem({
          own: id === work.actor.personId,
          before: rolesOf(person),
          after: [],
          otherAdministrators: await countOtherAdministrators(work.db, work.actor.collectionId, id),
        });
    if (problem !== null) throw conflict(problem);
    await raiseEpoch(work.db, id, { active });
    work.audit(
      peopleEvents.make('people.active-changed', subject(id, reason), { person: person.name, active }),
    );
    return toRecord(work.actor, await load(work, id));
  });
}

/** Ends every session of a person, on every device. */
export async function endSessions(context: CommandContext, id: string): Promise<PersonRecord> {
  authorise(context.actor, 'people.manage');
  return withTx(context, async (work) => {
    const person = await load(work, id);
    await raiseEpoch(work.db, id);
    work.audit(peopleEvents.make('people.sessions-ended', subject(id), { person: person.name }));
    return toRecord(work.actor, await load(work, id));
  });
}

export const rolesOf = (person: Pick<Found, 'memberships'>): Role[] =>
  person.memberships.map(({ role }) => role as Role);

function toRow(person: Omit<Found, 'secondFactor'>): PersonRow {
  return {
    id: person.id,
    name: person.name,
    email: person.email,
    active: person.active,
    roles: rolesOf(person),
    lastSignInAt: person.lastSignInAt?.toISOString() ?? null,
    invited: person.passwordDigest === null && person.erasedAt === null,
    erased: person.erasedAt !== null,
  };
}

const toRecord = (actor: Actor, person: Found): PersonRecord => ({
  ...toRow(person),
  version: person.version,
  secondFactor: person.secondFactor?.confirmedAt != null,
  abilities: { manage: may(actor, 'people.manage') },
});
