import 'server-only';
import { authorise, type CommandContext, unkept } from '@/lib/platform/actor';
import { conflict, notFound } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { peopleEvents } from './events';
import { dropOwnData, eraseAccount, findActsOf, findOwnData, findStanding, findWorkOf } from './repo/kept';
import { countOtherAdministrators, findPerson, hasRolesElsewhere } from './repo/people';
import { erasureProblem, rolesProblem } from './rules';
import type { PersonExport, PersonRecord } from './schema';
import { rolesOf, showPerson } from './service';

const subject = (id: string, reason?: string) => ({ subjectType: 'person', subjectId: id, reason });

/**
 * All that this collection keeps of a person: the account, their own data, and by ids the records and events in which
 * they stand. What those records say of birds, places and other people is not theirs and is not in it.
 */
export async function exportPerson(context: CommandContext, id: string): Promise<PersonExport> {
  authorise(context.actor, 'people.manage');
  return withTx(unkept(context), async (work) => {
    const { collectionId } = work.actor;
    const person = await findPerson(work.db, collectionId, id);
    if (person === null) throw notFound(say('This person'));
    work.audit(peopleEvents.make('people.exported', subject(id), { person: person.name }));
    const { name, email, active, locale, createdAt, lastSignInAt, erasedAt } = person;
    return {
      madeAt: work.now.toISOString(),
      account: {
        ...{ id, name, email, active, locale, createdAt: createdAt.toISOString() },
        lastSignInAt: lastSignInAt?.toISOString() ?? null,
        erasedAt: erasedAt?.toISOString() ?? null,
      },
      ownData: await findOwnData(work.db, collectionId, id),
      standing: await findStanding(work.db, collectionId, id),
      work: await findWorkOf(work.db, collectionId, id),
      events: await findActsOf(work.db, collectionId, id),
    };
  });
}

/**
 * Erases what is kept of a person for their own sake, for good: e-mail, sign-in data, second factor, wishes, notices.
 * The records they worked on, the events and, where they stand in any, their name stay: those are the legal record.
 */
export async function erasePerson(
  context: CommandContext,
  id: string,
  reason: string,
): Promise<PersonRecord> {
  authorise(context.actor, 'people.manage');
  await withTx(context, async (work) => {
    const { collectionId } = work.actor;
    const person = await findPerson(work.db, collectionId, id);
    if (person === null) throw notFound(say('This person'));
    const problem =
      erasureProblem({
        erased: person.erasedAt !== null,
        own: id === work.actor.personId,
        elsewhere: await hasRolesElsewhere(work.db, collectionId, id),
      }) ??
      rolesProblem({
        own: false,
        before: rolesOf(person),
        after: [],
        otherAdministrators: await countOtherAdministrators(work.db, collectionId, id),
      });
    if (problem !== null) throw conflict(problem);
    const acts = await findActsOf(work.db, collectionId, id);
    const nameStays = acts.length > 0 || (await findWorkOf(work.db, collectionId, id)).length > 0;
    await dropOwnData(work.db, person);
    await eraseAccount(work.db, id, { at: work.now, nameStays });
    work.audit(peopleEvents.make('people.erased', subject(id, reason), { nameStays }));
  });
  return showPerson(context.actor, id);
}
