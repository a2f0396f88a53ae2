import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dateColumn, dayIn, now } from '@/lib/platform/clock';
import { settings } from '@/lib/platform/env';
import { countWaiting, findCollection } from './repo/waiting';
import type { WaitingCounts } from './stages';

/** What waits at each stage of the actor's collection. */
export async function countWaitingFor(actor: Actor): Promise<WaitingCounts> {
  authorise(actor, 'workspace.enter');
  const collection = await findCollection(actor.collectionId);
  return countWaiting(actor.collectionId, dateColumn(dayIn(collection.timeZone, now())));
}

/** What the frame around every page says. */
export async function describeWorkspace(actor: Actor): Promise<{ collection: string; demo: boolean }> {
  authorise(actor, 'workspace.enter');
  return { collection: (await findCollection(actor.collectionId)).name, demo: settings().FURCULA_DEMO };
}
