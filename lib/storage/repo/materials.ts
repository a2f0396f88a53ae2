import 'server-only';
import { now } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

/** A material with its bird's number and people, its vial, its place, and the loan it is out on. */
export const withPlace = {
  bird: {
    select: {
      number: true,
      claimedById: true,
      catalogue: { select: { number: true } },
      taxon: { select: { scientificName: true } },
      bench: { select: { preparatorId: true, scribeId: true } },
    },
  },
  placement: { include: { unit: { select: { path: true } } } },
  vial: true,
  loanLines: {
    where: { sentAt: { not: null }, outcome: null },
    select: { loan: { select: { number: true } } },
  },
} satisfies Prisma.MaterialInclude;

export type MaterialRow = Prisma.MaterialGetPayload<{ include: typeof withPlace }>;

export function findMaterial(tx: Tx, collectionId: string, id: string): Promise<MaterialRow | null> {
  return tx.material.findFirst({ where: { id, collectionId }, include: withPlace });
}

export function findMaterials(tx: Tx, collectionId: string, ids: readonly string[]): Promise<MaterialRow[]> {
  return tx.material.findMany({ where: { id: { in: [...ids] }, collectionId }, include: withPlace });
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
  return tx.material.create({
    data: { ...data, createdAt: now() },
    include: { bird: { include: { catalogue: true } } },
  });
}

/** What holds a position: a material with its bird, or a unit that stands there. */
export async function findHolder(tx: Tx, unitId: string, position: string) {
  const placement = await tx.placement.findFirst({
    where: { unitId, position },
    include: { material: { include: { bird: { include: { catalogue: true } } } } },
  });
  const unit = await tx.storageUnit.findFirst({ where: { parentId: unitId, parentPosition: position } });
  return { material: placement?.material ?? null, unit };
}

export type Destination = {
  unitId: string;
  position: string | null;
  path: string;
  freezerId: string | null;
};

/** Writes or removes the one place of a material and keeps the move. */
export async function recordMove(
  tx: Tx,
  input: {
    materialId: string;
    fromPath: string | null;
    to: Destination | null;
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
    data: {
      materialId,
      fromPath,
      toPath: to?.path ?? null,
      toUnitId: to?.unitId ?? null,
      toPosition: to?.position ?? null,
      toFreezerId: to?.freezerId ?? null,
      reason,
      movedAt,
      movedById,
    },
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

export const countUses = (tx: Tx, vialId: string) => tx.vialUse.count({ where: { vialId } });
