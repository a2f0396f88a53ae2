import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { forEachRow } from '@/lib/platform/bulk';
import type { BulkAnswer } from '@/lib/platform/bulk-wire';
import { withTx } from '@/lib/platform/tx';
import { noticeEvents } from '../events';
import { writeFollow } from '../repo/comments';
import type { FollowBirdsRequest, FollowRequest } from '../schema';
import { requireSubject } from './comments';

/** Follows a record, or stops: then nothing is told of it, not even of one's own birds, but for mentions. */
export async function followRecord(
  context: CommandContext,
  { subjectType, subjectId, follow }: FollowRequest,
): Promise<{ following: boolean }> {
  const actor: Actor = context.actor;
  authorise(actor, 'comments.see');
  const personId = personOf(actor);
  return withTx(context, async (work) => {
    await requireSubject(work.db, actor, { subjectType, subjectId });
    await writeFollow(work.db, {
      subjectType,
      subjectId,
      personId,
      collectionId: actor.collectionId,
      at: work.now,
      stopped: !follow,
    });
    work.audit(
      noticeEvents.make(
        'notices.followed',
        { subjectType: 'person', subjectId: personId },
        { following: follow },
      ),
    );
    return { following: follow };
  });
}

/** Follows birds one by one, or stops; the answer says which could not be. */
export async function followBirds(
  context: CommandContext,
  { birdIds, follow }: FollowBirdsRequest,
): Promise<BulkAnswer> {
  authorise(context.actor, 'comments.see');
  return forEachRow(context, birdIds, (own, subjectId) =>
    followRecord(own, { subjectType: 'bird', subjectId, follow }),
  );
}
