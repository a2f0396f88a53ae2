import 'server-only';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { dateColumn } from '@/lib/platform/clock';
import { notFound, staleVersion } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { changeCustody } from '@/lib/storage/public';
import { applyCarcassAct } from './carcass';
import { findBird } from './repo/birds';
import { showQueueBird } from './service';
import type { DisposeRequest, QueueRow } from './wire';

const DISPOSITION = { discard: 'destroyed', transfer: 'transferred', release: 'released' } as const;

/**
 * A carcass leaves unprepared: destroyed before a witness, given to somebody authorised, or handed to an authority. The
 * bird stays in the book with what the salvage report needs.
 */
export async function disposeBird(
  context: CommandContext,
  id: string,
  request: DisposeRequest,
): Promise<QueueRow> {
  const { actor } = context;
  authorise(actor, 'queue.dispose');
  await withTx(context, async (work) => {
    const bird = await findBird(work.db, actor.collectionId, id);
    if (bird === null) throw notFound(say('This bird'));
    const { act, on, reason, version, ...detail } = request;
    if (bird.version !== version) throw staleVersion(say('This bird'), { version: bird.version });
    await applyCarcassAct(work, {
      birdId: id,
      act,
      reason,
      patch: {
        disposition: DISPOSITION[act],
        disposedOn: dateColumn(on),
        dispositionDetail: { ...detail, recordedAt: work.now.toISOString() },
        claimedById: null,
        claimExpiresAt: null,
      },
    });
    for (const carcass of bird.materials) {
      await changeCustody(work, { materialId: carcass.id, from: 'on-shelf', to: 'deaccessioned' });
    }
  });
  return showQueueBird(actor, id);
}
