import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { findEvents, listCollectionIds, readChain, readHead } from './repo';
import { ChainWalk, withoutExactPlaces } from './rules';
import type { ChainVerdict, HistoryEvent, HistoryQuery } from './schema';

/** A record's or a bird's history, newest first. Exact places are withheld from those who may not see them. */
export async function listHistory(
  actor: Actor,
  query: HistoryQuery,
): Promise<{ rows: HistoryEvent[]; next: string | null }> {
  authorise(actor, 'audit.see');
  const exact = may(actor, 'place.exact');
  const found = await findEvents(actor.collectionId, query);
  const { rows, next } = cutPage(found, query.size, (row) => writeCursor([Number(row.seq)]));
  return {
    rows: rows.map((row) => ({
      id: row.id,
      seq: Number(row.seq),
      at: row.at.toISOString(),
      actorName: row.actorName,
      kind: row.kind,
      subjectType: row.subjectType,
      subjectId: row.subjectId,
      payload: (exact ? row.payload : withoutExactPlaces(row.payload)) as Record<string, unknown>,
      reason: row.reason,
    })),
    next,
  };
}

/** Walks one collection's chain from its first row to its head. */
export async function verifyChain(collectionId: string): Promise<ChainVerdict> {
  const head = await readHead(collectionId);
  const walk = new ChainWalk();
  for await (const row of readChain(collectionId)) walk.feed(row);
  return walk.verdict(collectionId, head);
}

/** The chain of the reader's own collection. */
export function verifyOwnChain(actor: Actor): Promise<ChainVerdict> {
  authorise(actor, 'audit.verify');
  return verifyChain(actor.collectionId);
}

/** Every collection's chain: what `npm run verify` prints. */
export async function verifyAllChains(): Promise<ChainVerdict[]> {
  const verdicts: ChainVerdict[] = [];
  for (const id of await listCollectionIds()) verdicts.push(await verifyChain(id));
  return verdicts;
}

/** The present end of a chain: printed on signed reports as an anchor outside the database. */
export const chainHead = (collectionId: string) => readHead(collectionId);
