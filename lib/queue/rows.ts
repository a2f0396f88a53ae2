import 'server-only';
import { holdKind as holdKindSchema } from '@/lib/permits/schema';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { holdRules } from '@/lib/salvage/public';
import { placePath } from '@/lib/storage/public';
import { holdsOf } from './priorities';
import {
  type ClaimBird,
  countClaims,
  findCollection,
  findNames,
  findSkills,
  type ShownBird,
} from './repo/birds';
import { moveCarcass } from './rules/carcass';
import { mayTakeBird } from './rules/claims';
import {
  type CarcassState,
  type PreparationStyle,
  preparationStyleSchema,
  type SizeClass,
  type Skill,
  sizeClassSchema,
} from './schema';
import { readQueueSettings } from './settings';
import { priorityPart, type QueueRow } from './wire';

const priorityParts = priorityPart.array();

export type Rows = { rows: QueueRow[]; next: string | null };

export const toSkill = (row: { styleId: string; sizeClass: string; level: string }): Skill => ({
  style: row.styleId as PreparationStyle,
  sizeClass: row.sizeClass as SizeClass,
  level: row.level as Skill['level'],
});

export const styleOf = (bird: ClaimBird): PreparationStyle | null =>
  preparationStyleSchema.safeParse(bird.styleId).data ?? null;

export const sizeOf = (bird: ClaimBird): SizeClass =>
  sizeClassSchema.safeParse(bird.sizeClass).data ?? 'medium';

const TAKEN: readonly string[] = ['claimed', 'thawing', 'on-the-bench'];

/** Who may lift a hold of this kind; bench staff where the kind is the queue's own (a thaw to wait for). */
function liftersOf(kind: string): string[] {
  const known = holdKindSchema.safeParse(kind);
  return known.success ? [...holdRules[known.data].liftedBy] : ['preparator', 'curator'];
}

/** Bench staff take any bird; volunteers within the skills signed off for them. */
export const isBenchStaff = (actor: Pick<Actor, 'roles'>): boolean =>
  actor.roles.some((role) => role === 'preparator' || role === 'curator');

type Obstacle = { code: string; reason: string } | null;

/** A function that makes a queue row for this actor; what is the same for all rows is read once. */
export async function rowMaker(
  actor: Actor,
  birds: readonly ShownBird[],
): Promise<(bird: ShownBird) => QueueRow> {
  const { collectionId, personId } = actor;
  // Whose skills and claims decide what they may take: of nobody else are they read.
  const volunteer = isBenchStaff(actor) || !may(actor, 'queue.claim') ? null : personId;
  const [names, skills, openClaims, collection] = await Promise.all([
    findNames(birds.flatMap(({ claimedById, coWorkerId }) => [claimedById, coWorkerId])),
    volunteer === null ? [] : findSkills(db(), collectionId, volunteer),
    volunteer === null ? 0 : countClaims(collectionId, volunteer),
    volunteer === null ? null : findCollection(db(), collectionId),
  ]);
  const claims = collection === null ? null : readQueueSettings(collection.settings).claims;
  const obstacleOf = (bird: ShownBird): Obstacle => {
    if (!may(actor, 'queue.claim') || personId === null) return null;
    const holds = holdsOf(bird);
    if (claims === null) {
      const move = moveCarcass(bird.state as CarcassState, 'take', holds);
      return move.ok ? null : move;
    }
    const verdict = mayTakeBird(
      {
        person: { personId, skills: skills.map(toSkill), openClaims },
        bird: { state: bird.state as CarcassState, holds, style: styleOf(bird), sizeClass: sizeOf(bird) },
        supervisor: null,
      },
      claims,
    );
    return verdict.ok ? null : verdict;
  };
  return (bird) => {
    const obstacle = obstacleOf(bird);
    const claimant = bird.claimedById;
    const writes = may(actor, 'bench.write', { ownerIds: [claimant, bird.coWorkerId] });
    return {
      id: bird.id,
      number: bird.number,
      scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
      commonName: bird.taxon?.commonName ?? null,
      state: bird.state as CarcassState,
      style: styleOf(bird),
      sizeClass: sizeOf(bird),
      condition: bird.salvage.condition,
      cause: bird.salvage.cause,
      priority: bird.priority,
      parts: priorityParts.safeParse(bird.priorityDetail).data ?? [],
      holds: bird.salvage.holds.map(({ kind, reason }) => ({
        kind,
        reason,
        liftedBy: liftersOf(kind),
      })),
      place: placePath(bird.materials[0]?.placement ?? null),
      frozenAt: bird.frozenAt?.toISOString() ?? null,
      thawStartedAt: bird.thawStartedAt?.toISOString() ?? null,
      claimedBy:
        claimant === null ? null : { id: claimant, name: names.get(claimant) ?? say('somebody who left') },
      coWorker:
        bird.coWorkerId === null
          ? null
          : { id: bird.coWorkerId, name: names.get(bird.coWorkerId) ?? say('somebody who left') },
      claimExpiresAt: bird.claimExpiresAt?.toISOString() ?? null,
      request: bird.requestReason,
      accessioned: bird.salvage.accessionId !== null,
      version: bird.version,
      abilities: {
        take: bird.state === 'queued' && may(actor, 'queue.claim') && obstacle === null,
        takeBeside:
          bird.state === 'queued' && may(actor, 'queue.claim') && obstacle?.code === 'needs-supervisor',
        putBack: bird.state === 'claimed' && may(actor, 'queue.hand-over', { ownerIds: [claimant] }),
        handOver: TAKEN.includes(bird.state) && may(actor, 'queue.hand-over', { ownerIds: [claimant] }),
        takeOut: bird.state === 'claimed' && writes,
        startBench: (bird.state === 'claimed' || bird.state === 'thawing') && writes,
        prioritise: may(actor, 'queue.prioritise'),
        obstacle: bird.state === 'queued' ? (obstacle?.reason ?? null) : null,
      },
    };
  };
}
