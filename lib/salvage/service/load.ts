import 'server-only';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { dayIn } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { notFound, staleVersion } from '@/lib/platform/errors';
import type { EventSubject } from '@/lib/platform/events';
import type { Permission } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import {
  type Find,
  type FindData,
  findCollection,
  findRecord,
  takeTurn,
  updateRecord,
} from '../repo/records';
import type { SalvageRecord } from '../wire';
import { loadRecord } from './shape';

/** @throws AppError not-found outside the actor's collection. */
export async function load(tx: Tx, collectionId: string, id: string): Promise<Find> {
  const found = await findRecord(tx, collectionId, id);
  if (found === null) throw notFound(say('This salvage record'));
  return found;
}

/** Today where the collection is. */
export const todayOf = async (work: Work): Promise<string> =>
  dayIn((await findCollection(work.db, work.actor.collectionId)).timeZone, work.now);

export const subjectOf = (
  find: { id: string; bird: { id: string } | null },
  reason?: string,
): EventSubject => ({
  subjectType: 'salvage',
  subjectId: find.id,
  birdId: find.bird?.id,
  reason,
});

/**
 * Runs a command on one record: asks the permission, takes its turn, loads the record as it stands and refuses a stale
 * version; afterwards the record is answered anew.
 * @throws AppError stale-version with the present record.
 */
export async function onRecord(
  context: CommandContext,
  id: string,
  input: { permission: Permission; version: number },
  command: (work: Work, find: Find) => Promise<void>,
): Promise<SalvageRecord> {
  const { actor } = context;
  authorise(actor, input.permission);
  return withTx(context, async (work) => {
    await takeTurn(work.db, actor.collectionId);
    const find = await load(work.db, actor.collectionId, id);
    if (find.version !== input.version) throw await stale(work, id);
    await command(work, find);
    return loadRecord(work.db, actor, id);
  });
}

/** Writes a person's change under the version they saw. @throws AppError stale-version when it is another by now. */
export async function save(work: Work, find: Find, data: FindData): Promise<void> {
  if ((await updateRecord(work.db, find.id, find.version, data)) === 0) throw await stale(work, find.id);
}

const stale = async (work: Work, id: string) =>
  staleVersion(say('This record'), await loadRecord(work.db, work.actor, id));
