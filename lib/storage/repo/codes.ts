import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { splitMaterialNumber } from '@/lib/platform/numbers';
import { findUnitByCode } from './units';

/** Scanners give a code as printed; people may type it small. */
const spellings = (code: string): string[] => [...new Set([code, code.toUpperCase()])];

export type CodeFound =
  | { found: 'unit'; id: string }
  | { found: 'material'; id: string }
  | { found: 'bird'; id: string; number: string; carcassId: string | null };

/**
 * What carries this code: a unit, a vial, a material by its label (under the catalogue number or the salvage number),
 * or a bird by its number. Each question is answered from an index.
 */
export async function findCode(tx: Tx, collectionId: string, code: string): Promise<CodeFound | null> {
  const codes = spellings(code);
  const unit = await findUnitByCode(tx, collectionId, codes);
  if (unit !== null) return { found: 'unit', id: unit.id };
  const vial = await tx.vial.findFirst({
    where: { collectionId, code: { in: codes } },
    select: { materialId: true },
  });
  if (vial !== null) return { found: 'material', id: vial.materialId };
  const split = splitMaterialNumber(code);
  if (split !== null) {
    const bird = await findBird(tx, collectionId, spellings(split.birdNumber));
    const material = bird?.materials.find((one) => one.suffix === split.suffix);
    if (material !== undefined) return { found: 'material', id: material.id };
  }
  const bird = await findBird(tx, collectionId, codes);
  if (bird === null) return null;
  const carcass = bird.materials.find((one) => one.kind === 'carcass' && one.custody === 'on-shelf');
  return { found: 'bird', id: bird.id, number: bird.number, carcassId: carcass?.id ?? null };
}

function findBird(tx: Tx, collectionId: string, numbers: string[]) {
  return tx.bird.findFirst({
    where: {
      collectionId,
      OR: [{ number: { in: numbers } }, { catalogue: { collectionId, number: { in: numbers } } }],
    },
    select: {
      id: true,
      number: true,
      materials: { select: { id: true, suffix: true, kind: true, custody: true } },
    },
  });
}
