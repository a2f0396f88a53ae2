import 'server-only';
import type { z } from 'zod';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { forbidden, notFound } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { findBenchPeople, findColleague, writeSkill } from './repo/birds';
import { toSkill } from './rows';
import type { benchPeople, SkillChange } from './wire';

type BenchPeople = z.infer<typeof benchPeople>;

/** Everybody who may work at the bench, with the skills signed off for them. */
export async function listBenchPeople(actor: Actor): Promise<BenchPeople> {
  authorise(actor, 'plan.see');
  const people = await findBenchPeople(actor.collectionId);
  return {
    people: people.map((person) => ({
      id: person.id,
      name: person.name,
      supervises: person.memberships.some(({ role }) => role === 'preparator' || role === 'curator'),
      skills: person.skills.map(toSkill),
    })),
  };
}

/** Signs a skill off, or takes it back (level null). Nobody signs their own. */
export async function signSkill(context: CommandContext, change: SkillChange): Promise<BenchPeople> {
  const { actor } = context;
  authorise(actor, 'skills.sign');
  if (change.personId === actor.personId)
    throw forbidden(say('Nobody signs off their own skills; ask a colleague.'));
  await withTx(context, async (work) => {
    const person = await findColleague(work.db, actor.collectionId, change.personId);
    if (person === null) throw notFound(say('This person'));
    await writeSkill(
      work.db,
      {
        personId: person.id,
        collectionId: actor.collectionId,
        styleId: change.style,
        sizeClass: change.sizeClass,
      },
      change.level,
      { by: personOf(actor), at: work.now },
    );
    work.audit(
      queueEvents.make(
        'queue.skill-signed',
        { subjectType: 'person', subjectId: person.id },
        { person: person.name, style: change.style, sizeClass: change.sizeClass, level: change.level },
      ),
    );
  });
  return listBenchPeople(actor);
}
