import 'server-only';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { conflict, notFound, staleVersion } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { storageEvents } from '../events';
import { preservationOf } from '../keeping';
import { labelOf, placePath } from '../naming';
import { insertMoves } from '../repo/moves';
import { findInside, lockTree, rewritePaths, updateUnit } from '../repo/units';
import { type ContentRow, findContents } from '../repo/vials';
import { resolveConditions } from '../rules';
import type { MoveUnitRequest, UnitRecord } from '../wire';
import { describeUnit, loadTree, loadUnits } from './tree';
import { checkMove, checkRoom, namePosition, rateInside, readPosition } from './unit-checks';

/** Beyond this many birds the move stands in the unit's own story and in each material's moves only. */
const BIRD_EVENTS_AT_MOST = 1000;

/** Moves a unit with all it holds in one act. @throws AppError when it, or what is in it, does not belong there */
export async function moveUnit(
  context: CommandContext,
  id: string,
  request: MoveUnitRequest,
): Promise<UnitRecord> {
  const { actor } = context;
  authorise(actor, 'storage.move', { ownerIds: [] });
  return withTx(context, async (work) => {
    await lockTree(work.db, actor.collectionId);
    const loaded = await loadTree(work.db, actor.collectionId);
    const unit = loaded.wire.get(id);
    if (unit === undefined) throw notFound(say('This place in the store'));
    if (unit.version !== request.version)
      throw staleVersion(unit.name, await describeUnit(work.db, actor, id));
    const parent = request.parentId === null ? null : loaded.wire.get(request.parentId);
    if (parent === undefined) throw notFound(say('The place it should stand in'));
    if (parent !== null && !parent.active)
      throw conflict(say('{name} is no longer in use.', { name: parent.name }));
    if (parent?.id !== unit.parentId) checkRoom(parent, 1);

    const grid = parent?.grid ?? null;
    const position = grid === null || !request.position ? null : readPosition(grid, request.position);
    const inside = await findInside(work.db, id);
    const contents = await findContents(work.db, inside);
    const kept = contents.flatMap(
      ({ material }) =>
        preservationOf({ ...material, preservation: material.vial?.preservation ?? null }) ?? [],
    );
    checkMove(loaded.tree, id, { parentId: request.parentId, position }, kept);

    const path = parent === null ? unit.name : `${parent.path} › ${unit.name}`;
    const parentPosition = namePosition(grid, position);
    const changed = await updateUnit(
      work.db,
      { id, version: request.version },
      { parentId: request.parentId, parentPosition },
    );
    if (changed === 0) throw staleVersion(unit.name, unit);
    await rewritePaths(work.db, { id, from: unit.path, to: path, inside });
    await keepMoves(work, { unit: { id, path: unit.path }, path, contents, reason: request.reason ?? null });
    await rateInside(work, inside);
    work.audit(
      storageEvents.make(
        'storage.unit-moved',
        { subjectType: 'unit', subjectId: id, reason: request.reason },
        { unit: unit.name, from: unit.path, to: path, materials: contents.length },
      ),
    );
    return describeUnit(work.db, actor, id);
  });
}

/** Each material's move, and each bird's event: what it was moved with, from where, to where. */
async function keepMoves(
  work: Work,
  input: {
    unit: { id: string; path: string };
    path: string;
    contents: readonly ContentRow[];
    reason: string | null;
  },
): Promise<void> {
  const { unit, path, contents, reason } = input;
  const after = await loadUnits(work.db, work.actor.collectionId);
  await insertMoves(
    work.db,
    contents.map(({ unitId, position, materialId, unit: around }) => {
      const now = { path: path + around.path.slice(unit.path.length) };
      return {
        materialId,
        fromPath: placePath({ unit: around, position }),
        toPath: placePath({ unit: now, position }),
        toUnitId: unitId,
        toPosition: position,
        toFreezerId: resolveConditions(after, unitId).freezerId,
        withUnitId: unit.id,
        reason,
        movedAt: work.now,
        movedById: work.actor.personId,
      };
    }),
  );
  const byBird = new Map<string, string[]>();
  for (const { material } of contents) {
    byBird.set(material.birdId, [...(byBird.get(material.birdId) ?? []), labelOf(material)]);
  }
  if (byBird.size > BIRD_EVENTS_AT_MOST) return;
  for (const [birdId, materials] of byBird) {
    work.audit(
      storageEvents.make(
        'storage.moved-along',
        { subjectType: 'bird', subjectId: birdId, birdId, reason },
        { materials: materials.sort(), from: unit.path, to: path },
      ),
    );
  }
}
