import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { loadMaterial, markFound, moveLoaded, moveMaterial } from '../materials';
import { findCode } from '../repo/codes';
import { findMaterial } from '../repo/materials';
import { findMoves, findNames } from '../repo/occupants';
import { ownersOf } from '../spots';
import type { MaterialMoves, MaterialSpot, MoveMaterialsRequest } from '../wire';
import { materialOf, spotOf, unknownCode } from './codes';

/**
 * Puts materials into their places, or takes them into somebody's hands; all of them or none. One that was missing
 * and is put into a place counts as found.
 */
export async function moveMaterials(
  context: CommandContext,
  { moves, reason }: MoveMaterialsRequest,
): Promise<{ materials: MaterialSpot[] }> {
  const { actor } = context;
  authorise(actor, 'storage.move');
  return withTx(context, async (work) => {
    const ids: string[] = [];
    for (const move of moves) {
      const materialId = move.materialId ?? (await resolve(work, move.code ?? ''));
      const material = await loadMaterial(work, materialId);
      authorise(actor, 'storage.move', { ownerIds: ownersOf(material) });
      if (material.custody === 'missing' && move.to !== null) {
        await markFound(work, { materialId, reason: reason ?? 'turned up' });
        await moveMaterial(work, { materialId, to: move.to, reason });
      } else {
        await moveLoaded(work, material, { to: move.to, reason });
      }
      ids.push(materialId);
    }
    const materials: MaterialSpot[] = [];
    for (const id of ids) materials.push(await spotOf(work.db, actor, id));
    return { materials };
  });
}

async function resolve(work: Work, code: string): Promise<string> {
  const found = await findCode(work.db, work.actor.collectionId, code);
  const materialId = found === null ? null : materialOf(found);
  if (materialId === null) throw unknownCode(code);
  return materialId;
}

/** Every place a material had, newest first. */
export async function listMoves(actor: Actor, materialId: string): Promise<MaterialMoves> {
  authorise(actor, 'storage.see');
  if ((await findMaterial(db(), actor.collectionId, materialId)) === null)
    throw notFound(say('This material'));
  const moves = await findMoves(db(), materialId);
  const names = await findNames(
    db(),
    moves.map((move) => move.movedById),
  );
  return {
    moves: moves.map((move) => ({
      id: move.id,
      from: move.fromPath,
      to: move.toPath,
      reason: move.reason,
      withUnit: move.withUnitId !== null,
      at: move.movedAt.toISOString(),
      by: move.movedById === null ? null : (names.get(move.movedById) ?? null),
    })),
  };
}
