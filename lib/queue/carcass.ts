import 'server-only';
import { conflict, notFound } from '@/lib/platform/errors';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { holdsOf } from './priorities';
import { findBird, updateBird } from './repo/birds';
import { type CarcassAct, moveCarcass } from './rules/carcass';
import type { CarcassState } from './schema';

type CarcassPatch = Pick<
  Prisma.BirdUncheckedUpdateManyInput,
  | 'thawStartedAt'
  | 'dispositionDetail'
  | 'frozenAt'
  | 'disposition'
  | 'disposedOn'
  | 'sex'
  | 'taxonId'
  | 'claimedById'
  | 'claimExpiresAt'
>;

/**
 * Moves a carcass by an act of the one table, inside the caller's transaction, and writes the event.
 * @throws AppError conflict when the table, a hold or somebody quicker says no.
 */
export async function applyCarcassAct(
  work: Work,
  input: { birdId: string; act: CarcassAct; patch?: CarcassPatch; reason?: string },
): Promise<CarcassState> {
  const bird = await findBird(work.db, work.actor.collectionId, input.birdId);
  if (bird === null) throw notFound(say('This bird'));
  const move = moveCarcass(bird.state as CarcassState, input.act, holdsOf(bird));
  if (!move.ok) throw conflict(move.reason);
  const changed = await updateBird(
    work.db,
    { id: bird.id, state: bird.state },
    { ...input.patch, state: move.to },
  );
  if (changed === 0) throw conflict(say('Somebody else moved this bird a moment ago. Reload and look.'));
  work.audit(
    queueEvents.make(
      'queue.carcass-moved',
      { subjectType: 'bird', subjectId: bird.id, birdId: bird.id, reason: input.reason },
      { bird: bird.number, act: input.act, from: bird.state, to: move.to },
    ),
  );
  return move.to;
}
