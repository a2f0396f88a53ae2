import 'server-only';
import { authorise, type CommandContext, unkept } from '@/lib/platform/actor';
import { conflict, notFound } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import { insertFinder, updateFinder } from '../repo/records';
import type { FinderContact } from '../schema';
import type { SalvageRecord } from '../wire';
import type { FinderAnswer } from '../wire-finder';
import { checkFind } from './coverage';
import { load, onRecord, save, subjectOf } from './load';
import { factsOf } from './shape';

/** Who found the bird and how to reach them. That somebody looked goes into the history, what they saw does not. */
export async function lookUpFinder(context: CommandContext, id: string): Promise<FinderAnswer> {
  authorise(context.actor, 'finder.see');
  return withTx(unkept(context), async (work) => {
    const find = await load(work.db, work.actor.collectionId, id);
    if (find.finder === null) throw notFound(say('The finder of this bird'));
    work.audit(salvageEvents.make('salvage.finder-looked-up', subjectOf(find), { number: find.number }));
    const { name, email, phone, address, erasedAt } = find.finder;
    return { name, email, phone, address, erasedAt: erasedAt?.toISOString() ?? null };
  });
}

/** Writes a finder's name and contact data. */
export function changeFinder(
  context: CommandContext,
  id: string,
  { version, reason, finder }: { version: number; reason: string; finder: FinderContact },
): Promise<SalvageRecord> {
  return onRecord(unkept(context), id, { permission: 'finder.see', version }, async (work, find) => {
    if (factsOf(find).finderPersonId !== null)
      throw conflict(say('The finder is one of us; the account holds the data.'));
    if (find.finder?.erasedAt != null) throw conflict(say('The finder asked for their data to be erased.'));
    const finderId =
      find.finder?.id ??
      (await insertFinder(work.db, { ...finder, collectionId: work.actor.collectionId })).id;
    if (find.finder !== null) await updateFinder(work.db, finderId, finder);
    await save(work, find, { finderId });
    work.audit(
      salvageEvents.make('salvage.finder-changed', subjectOf(find, reason), { number: find.number }),
    );
    await checkFind(work, id, 'facts');
  });
}
