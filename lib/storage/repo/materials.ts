import 'server-only';
import type { Tx } from '@/lib/platform/db';

export type MaterialRow = NonNullable<Awaited<ReturnType<typeof findMaterial>>>;

/** A material of the collection with its bird's number and its place. */
export function findMaterial(tx: Tx, collectionId: string, id: string) {
  return tx.material.findFirst({
    where: { id, collectionId },
    include: { bird: { include: { catalogue: true } }, placement: { include: { unit: true } } },
  });
}

export function insertMaterial(
  tx: Tx,
  data: {
    collectionId: string;
    birdId: string;
    parentId: string | null;
    kind: string;
    suffix: string;
    state: string | null;
    description: string | null;
  },
) {
  return tx.material.create({ data, include: { bird: { include: { catalogue: true } } } });
}

export const findUnit = (tx: Tx, collectionId: string, id: string) =>
  tx.storageUnit.findFirst({ where: { id, collectionId } });

/** Writes or removes the one place of a material and keeps the move. */
export async function recordMove(
  tx: Tx,
  input: {
    materialId: string;
    fromPath: string | null;
    to: { unitId: string; position: string | null; path: string } | null;
    reason: string | null;
    movedAt: Date;
    movedById: string | null;
  },
): Promise<void> {
  const { materialId, fromPath, to, reason, movedAt, movedById } = input;
  if (to === null) await tx.placement.deleteMany({ where: { materialId } });
  else {
    const place = { unitId: to.unitId, position: to.position, placedAt: movedAt, placedById: movedById };
    await tx.placement.upsert({ where: { materialId }, create: { materialId, ...place }, update: place });
  }
  await tx.materialMove.create({
    data: { materialId, fromPath, toPath: to?.path ?? null, reason, movedAt, movedById },
  });
}

/** Changes custody if it is still what the caller saw; 0 when it is not. */
export async function updateCustody(tx: Tx, id: string, from: string, to: string): Promise<number> {
  const { count } = await tx.material.updateMany({
    where: { id, custody: from },
    data: { custody: to, version: { increment: 1 } },
  });
  return count;
}

/** Changes the progress of a material if it is still in the state the caller saw; 0 when it is not. */
export async function updateMaterialState(
  tx: Tx,
  id: string,
  from: string | null,
  to: string,
): Promise<number> {
  const { count } = await tx.material.updateMany({
    where: { id, state: from },
    data: { state: to, version: { increment: 1 } },
  });
  return count;
}
