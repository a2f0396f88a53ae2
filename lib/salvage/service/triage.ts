import 'server-only';
import type { HoldKind } from '@/lib/permits/public';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, forbidden, notFound, notValid } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { createMaterial, moveMaterial } from '@/lib/storage/public';
import { salvageEvents } from '../events';
import { acceptObstacle, mayPlaceHold } from '../policy';
import { type Find, insertBird, insertDetermination } from '../repo/records';
import { canLiftHold, stoppedByHolds } from '../rules/holds';
import { canMoveSalvage } from '../rules/transitions';
import type { AcceptRequest, LiftHoldRequest, PlaceHoldRequest, SalvageState } from '../schema';
import type { SalvageRecord } from '../wire';
import { addHold, settleState, takeOffHold } from './holds';
import { load, onRecord, save, subjectOf, todayOf } from './load';
import { openHolds, openKinds } from './shape';

function refuseMove(find: Find, to: SalvageState): void {
  const from = find.state as SalvageState;
  if (canMoveSalvage(from, to)) return;
  throw conflict(
    say('{number} is {replace}; it cannot become {replace2} from there.', {
      number: find.number,
      replace: from.replace('-', ' '),
      replace2: to.replace('-', ' '),
    }),
  );
}

/** Takes a reported (or declined) record into triage. */
export function startTriage(
  context: CommandContext,
  id: string,
  { version }: { version: number },
): Promise<SalvageRecord> {
  return onRecord(context, id, { permission: 'salvage.triage', version }, async (work, find) => {
    if (find.state === 'on-hold')
      throw conflict(say('It is on hold; it comes back when the hold is lifted.'));
    refuseMove(find, 'in-triage');
    await save(work, find, { state: 'in-triage' });
    work.audit(
      salvageEvents.make('salvage.triage-started', subjectOf(find), {
        number: find.number,
        from: find.state,
      }),
    );
    await settleState(work, await load(work.db, work.actor.collectionId, id));
  });
}

/**
 * Accepts a find into the lab: it becomes a bird of the same number with its carcass as first material, in custody or, when
 * a place is given, in the freezer.
 */
export async function acceptFind(
  context: CommandContext,
  id: string,
  request: AcceptRequest,
): Promise<SalvageRecord> {
  if (request.storage !== null) authorise(context.actor, 'storage.move', { ownerIds: [] });
  return onRecord(
    context,
    id,
    { permission: 'salvage.triage', version: request.version },
    async (work, find) => {
      const obstacle = acceptObstacle({
        state: find.state as SalvageState,
        coverage: find.coverage,
        openHolds: openKinds(find),
      });
      if (obstacle !== null)
        throw conflict(say('{number} cannot be accepted: {obstacle}', { number: find.number, obstacle }));
      await save(work, find, { state: 'accepted' });
      const birdId = find.bird?.id ?? (await makeBird(work, find, request.storage));
      work.audit(
        salvageEvents.make(
          'salvage.accepted',
          { ...subjectOf(find), birdId },
          {
            number: find.number,
            state: find.bird?.state ?? (request.storage === null ? 'in-custody' : 'in-freezer'),
          },
        ),
      );
    },
  );
}

/** Suffix and kind of what came in: a whole bird is a carcass; parts, feathers, nests and eggs are not. */
const FIRST_MATERIAL: Record<string, { kind: string; suffix: string }> = {
  'whole-bird': { kind: 'carcass', suffix: 'C' },
};
const OTHER_MATERIAL = { kind: 'other', suffix: 'X1' };

async function makeBird(work: Work, find: Find, storage: AcceptRequest['storage']): Promise<string> {
  const bird = await insertBird(work.db, {
    collectionId: work.actor.collectionId,
    salvageId: find.id,
    number: find.number,
    taxonId: find.taxonId,
    state: storage === null ? 'in-custody' : 'in-freezer',
    frozenAt: storage === null ? null : work.now,
  });
  const first = FIRST_MATERIAL[find.specimenType] ?? OTHER_MATERIAL;
  const description = first.kind === 'carcass' ? null : find.specimenType.replace('-', ' ');
  const material = await createMaterial(work, { ...first, birdId: bird.id, description });
  if (storage !== null)
    await moveMaterial(work, { materialId: material.id, to: storage, reason: 'accepted' });
  return bird.id;
}

/** Declines a find: it does not enter the collection. What becomes of the carcass is for its holder and the law. */
export function declineFind(
  context: CommandContext,
  id: string,
  { version, reason }: { version: number; reason: string },
): Promise<SalvageRecord> {
  return onRecord(context, id, { permission: 'salvage.triage', version }, async (work, find) => {
    refuseMove(find, 'declined');
    if (find.bird !== null) {
      throw conflict(
        say('{number} is in the bird book already; dispose of it, transfer or release it there.', {
          number: find.number,
        }),
      );
    }
    if (stoppedByHolds(openKinds(find)).has('disposal')) {
      throw conflict(
        say('{number} is on a hold that stops disposal; the hold must be lifted first.', {
          number: find.number,
        }),
      );
    }
    await save(work, find, { state: 'declined' });
    work.audit(
      salvageEvents.make('salvage.declined', subjectOf(find, reason), {
        number: find.number,
        from: find.state,
      }),
    );
  });
}

/** Puts a find on hold and names who must be told. Holds of the law are the officer's. */
export function placeHold(
  context: CommandContext,
  id: string,
  request: PlaceHoldRequest,
): Promise<SalvageRecord> {
  const { kind, reason, tellWhom, version } = request;
  return onRecord(context, id, { permission: 'salvage.hold', version }, async (work, find) => {
    if (!mayPlaceHold(work.actor, kind))
      throw forbidden(say('A hold of this kind ({kind}) is placed by a permit officer.', { kind }));
    if (openKinds(find).includes(kind))
      throw conflict(say('{number} has an open hold of this kind already.', { number: find.number }));
    await save(work, find, {});
    await addHold(work, find, { kind, reason, tellWhom, ruleCode: null, placedBy: personOf(work.actor) });
    await settleState(work, await load(work.db, work.actor.collectionId, id));
  });
}

/** Lifts a hold. Each kind says who may, and whether a document is needed. */
export function liftHold(
  context: CommandContext,
  ids: { id: string; holdId: string },
  { version, reason, documentReference }: LiftHoldRequest,
): Promise<SalvageRecord> {
  return onRecord(context, ids.id, { permission: 'salvage.hold', version }, async (work, find) => {
    const hold = openHolds(find).find((one) => one.id === ids.holdId);
    if (hold === undefined) throw notFound(say('This open hold'));
    const kind = hold.kind as HoldKind;
    const byRole = canLiftHold(kind, work.actor.roles, 'named');
    if (!byRole.allowed) throw forbidden(byRole.reason);
    const withPaper = canLiftHold(kind, work.actor.roles, documentReference);
    if (!withPaper.allowed) {
      throw notValid(say('The hold was not lifted.'), [
        { path: 'documentReference', message: withPaper.reason },
      ]);
    }
    await save(work, find, {});
    const done = { id: hold.id, kind, note: reason, document: documentReference };
    if (!(await takeOffHold(work, find, done)))
      throw conflict(say('Somebody else lifted this hold a moment ago.'));
    await settleState(work, await load(work.db, work.actor.collectionId, ids.id));
  });
}

/** After acceptance another name is a new identification of the bird; the name it came with stays with the find. */
export async function identifyAnew(
  work: Work,
  find: Find & { bird: NonNullable<Find['bird']> },
  name: { taxonId: string | null; verbatim: string; from: string; reason: string },
): Promise<void> {
  await insertDetermination(work.db, {
    birdId: find.bird.id,
    taxonId: name.taxonId,
    verbatim: name.verbatim,
    determinedBy: work.actor.name,
    on: await todayOf(work),
    remarks: name.reason,
  });
  work.audit(
    salvageEvents.make('salvage.identified-anew', subjectOf(find, name.reason), {
      number: find.number,
      from: name.from,
      to: name.verbatim,
    }),
  );
}
