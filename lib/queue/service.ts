import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { applyCarcassAct } from './carcass';
import { queueEvents } from './events';
import { holdsOf, refreshPriorities } from './priorities';
import { findBird, findBirds, findCollection, findQueue, findShownBird, updateBird } from './repo/birds';
import { type Rows, rowMaker } from './rows';
import { moveCarcass } from './rules/carcass';
import type { CarcassState } from './schema';
import { readQueueSettings } from './settings';
import type { EnqueueRequest, QueueListQuery, QueueRow } from './wire';

/** The queue in order of priority, each bird with the parts of its priority and what this actor may do with it. */
export async function listQueue(actor: Actor, query: QueueListQuery): Promise<Rows> {
  authorise(actor, 'queue.see');
  const { rows, next } = cutPage(await findQueue(actor.collectionId, query), query.size, (bird) =>
    writeCursor([bird.priority, bird.id]),
  );
  const toRow = await rowMaker(actor, rows);
  return { rows: rows.map(toRow), next };
}

export async function showQueueBird(actor: Actor, id: string): Promise<QueueRow> {
  authorise(actor, 'queue.see');
  const bird = await findShownBird(actor.collectionId, id);
  if (bird === null) throw notFound(say('This bird'));
  return (await rowMaker(actor, [bird]))(bird);
}

/** Puts accessioned birds into the queue with the preparation wanted, and computes their priority. */
export async function enqueueBirds(
  context: CommandContext,
  request: EnqueueRequest,
): Promise<{ queued: number }> {
  const { actor } = context;
  authorise(actor, 'queue.prioritise');
  return withTx(context, async (work) => {
    const ids = [...new Set(request.birdIds)];
    const birds = await findBirds(work.db, actor.collectionId, ids);
    if (birds.length !== ids.length) throw notFound(say('One of the chosen birds'));
    const problems = birds.flatMap((bird) => {
      const move = moveCarcass(bird.state as CarcassState, 'queue', holdsOf(bird));
      const why = !move.ok
        ? move.reason
        : bird.salvage.accessionId === null
          ? say('It is in no accession yet.')
          : null;
      return why === null ? [] : [{ path: `birdIds.${bird.id}`, message: `${bird.number}: ${why}` }];
    });
    if (problems.length > 0) throw notValid(say('Nothing was queued.'), problems);
    for (const bird of birds) {
      const changed = await updateBird(
        work.db,
        { id: bird.id, state: bird.state, version: bird.version },
        { state: 'queued', styleId: request.style, sizeClass: request.sizeClass },
      );
      if (changed === 0)
        throw conflict(
          say('{number} was changed by somebody else a moment ago. Nothing was queued.', {
            number: bird.number,
          }),
        );
    }
    const settings = readQueueSettings((await findCollection(work.db, actor.collectionId)).settings);
    const queued = await findBirds(work.db, actor.collectionId, ids);
    const priorities = await refreshPriorities(work, queued, settings);
    for (const bird of queued) {
      work.audit(
        queueEvents.make(
          'queue.queued',
          { subjectType: 'bird', subjectId: bird.id, birdId: bird.id },
          {
            bird: bird.number,
            style: request.style,
            sizeClass: request.sizeClass,
            priority: Math.round(priorities.find(({ birdId }) => birdId === bird.id)?.total ?? 0),
          },
        ),
      );
    }
    return { queued: queued.length };
  });
}

/** A curator's wish for a bird; it raises the priority and says why. */
export async function requestQueuedBird(
  context: CommandContext,
  id: string,
  { version, urgency, reason }: { version: number; urgency: string; reason: string },
): Promise<QueueRow> {
  const { actor } = context;
  authorise(actor, 'queue.prioritise');
  await withTx(context, async (work) => {
    const bird = await findBird(work.db, actor.collectionId, id);
    if (bird === null) throw notFound(say('This bird'));
    const changed = await updateBird(
      work.db,
      { id, state: bird.state, version },
      { requestedById: personOf(actor), requestReason: reason, requestUrgency: urgency },
    );
    if (changed === 0) throw staleVersion(say('This bird'), { version: bird.version });
    const settings = readQueueSettings((await findCollection(work.db, actor.collectionId)).settings);
    await refreshPriorities(work, await findBirds(work.db, actor.collectionId, [id]), settings);
    work.audit(
      queueEvents.make(
        'queue.requested',
        { subjectType: 'bird', subjectId: id, birdId: id, reason },
        { bird: bird.number, urgency },
      ),
    );
  });
  return showQueueBird(actor, id);
}

/** The carcass leaves the freezer to thaw; its clock starts. Only the claimant, or bench staff. */
export async function takeOutOfFreezer(context: CommandContext, id: string): Promise<QueueRow> {
  const { actor } = context;
  await withTx(context, async (work) => {
    const bird = await findBird(work.db, actor.collectionId, id);
    if (bird === null) throw notFound(say('This bird'));
    authorise(actor, 'bench.write', { ownerIds: [bird.claimedById, bird.coWorkerId] });
    await applyCarcassAct(work, { birdId: id, act: 'take-out', patch: { thawStartedAt: now() } });
  });
  return showQueueBird(actor, id);
}
