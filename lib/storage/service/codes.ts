import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { AppError, notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { labelOf } from '../naming';
import { type CodeFound, findCode } from '../repo/codes';
import { findMaterial } from '../repo/materials';
import { findLastPlace } from '../repo/occupants';
import { findUnitWithAround } from '../repo/units';
import { toSpot } from '../spots';
import type { MaterialSpot, ScanAnswer } from '../wire';
import { toWire } from './tree';

/** What a scanned or typed code belongs to. @throws AppError not-found with the code itself */
export async function findByCode(actor: Actor, code: string): Promise<ScanAnswer> {
  authorise(actor, 'storage.see');
  const found = await findCode(db(), actor.collectionId, code);
  if (found === null) throw unknownCode(code);
  if (found.found === 'unit') {
    const row = (await findUnitWithAround(db(), actor.collectionId, found.id)).at(-1);
    if (row === undefined) throw unknownCode(code);
    return { found: 'unit', unit: toWire(row, 0, 0) };
  }
  const materialId = materialOf(found);
  if (materialId === null) {
    const { id, number } = found as Extract<CodeFound, { found: 'bird' }>;
    return { found: 'bird', bird: { id, number } };
  }
  return { found: 'material', material: await spotOf(db(), actor, materialId) };
}

export const unknownCode = (code: string) =>
  new AppError(
    'not-found',
    say('Nothing here carries the code “{code}”. Scan it again, or type the number on the label.', { code }),
  );

/** The material that a code stands for; a bird's own number is that of its carcass while there is one. */
export const materialOf = (found: CodeFound): string | null =>
  found.found === 'material' ? found.id : found.found === 'bird' ? found.carcassId : null;

export async function spotOf(tx: Tx, actor: Actor, materialId: string): Promise<MaterialSpot> {
  const material = await findMaterial(tx, actor.collectionId, materialId);
  if (material === null) throw notFound(say('This material'));
  const lastPlace = material.placement === null ? await findLastPlace(tx, materialId) : null;
  return toSpot(actor, material, lastPlace);
}

/** Whose code this is already, in words; null when it is free. */
export async function findCodeOwner(tx: Tx, actor: Actor, code: string): Promise<string | null> {
  const found = await findCode(tx, actor.collectionId, code);
  if (found === null) return null;
  if (found.found === 'bird') return say('bird {number}', { number: found.number });
  if (found.found === 'unit') {
    return (
      (await findUnitWithAround(tx, actor.collectionId, found.id)).at(-1)?.path ?? say('a place in the store')
    );
  }
  const material = await findMaterial(tx, actor.collectionId, found.id);
  return material === null ? 'a material' : labelOf(material);
}
