import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { atOneInstant, findEvents, listChains, readChain, readHead } from './repo';
import { ChainWalk, withoutExactPlaces } from './rules';
import type { ChainAnchor, ChainVerdict, HistoryEvent, HistoryQuery } from './schema';

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

/** Walks one collection's chain from its first row to its head, as it stands at one instant. */
export function verifyChain(
  collectionId: string,
  anchors: readonly ChainAnchor[] = [],
): Promise<ChainVerdict> {
  return atOneInstant(async (tx) => {
    const walk = new ChainWalk(anchors.filter((anchor) => anchor.collectionId === collectionId));
    for await (const row of readChain(tx, collectionId)) walk.feed(row);
    return walk.verdict(collectionId, await readHead(tx, collectionId));
  });
}

/** The chain of the reader's own collection. */
export function verifyOwnChain(actor: Actor): Promise<ChainVerdict> {
  authorise(actor, 'audit.verify');
  return verifyChain(actor.collectionId);
}

/** Every chain, and those that only an anchor remembers: what `npm run verify` prints. */
export async function verifyAllChains(anchors: readonly ChainAnchor[] = []): Promise<ChainVerdict[]> {
  const verdicts: ChainVerdict[] = [];
  const ids = new Set([...(await listChains()), ...anchors.map(({ collectionId }) => collectionId)]);
  for (const id of ids) verdicts.push(await verifyChain(id, anchors));
  return verdicts;
}

/** The present end of a chain: printed on signed reports as an anchor outside the database. */
export const chainHead = (collectionId: string) => readHead(db(), collectionId);
