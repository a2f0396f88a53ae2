import 'server-only';
import { workersOf } from '@/lib/bench/policy';
import { type BareRecord, queueUp } from '@/lib/bench/repo/records';
import { isOpenForEntries } from '@/lib/bench/rules';
import type { BenchState } from '@/lib/bench/schema';
import { authorise } from '@/lib/platform/actor';
import type { Tx } from '@/lib/platform/db';
import { conflict, notFound } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { phrases, say } from '@/lib/platform/words/say';

/** Reads a record of the collection with as much around it as the act needs. */
type Find<Found> = (tx: Tx, collectionId: string, id: string) => Promise<Found | null>;

const STATE_WORDS: Record<BenchState, string> = phrases({
  draft: 'a draft',
  returned: 'returned',
  'in-review': 'under review: take it back to write in it',
  approved: 'approved and locked: later changes are amendments, with a reason',
});

/** The record, locked against other writers of it until the transaction ends. @throws AppError not-found */
export async function loadQueued<Found>(work: Work, id: string, find: Find<Found>): Promise<Found> {
  await queueUp(work.db, id);
  const record = await find(work.db, work.actor.collectionId, id);
  if (record === null) throw notFound(say('This bench record'));
  return record;
}

/**
 * … for somebody who writes in it.
 * @throws AppError not-found, forbidden, or conflict when nothing may be written in its state
 */
export async function loadForWriting<Found extends BareRecord>(
  work: Work,
  id: string,
  find: Find<Found>,
): Promise<Found> {
  const record = await loadQueued(work, id, find);
  authorise(work.actor, 'bench.write', { ownerIds: workersOf(record) });
  const state = record.state as BenchState;
  if (!isOpenForEntries(state))
    throw conflict(
      say('{prepNumber} is {state_words}.', {
        prepNumber: record.prepNumber,
        state_words: STATE_WORDS[state],
      }),
    );
  return record;
}

/** What an audit event about a record is about. */
export const subjectOf = (record: BareRecord, reason?: string | null) => ({
  subjectType: 'bench-record',
  subjectId: record.id,
  birdId: record.birdId,
  reason,
});
