import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, readCursor } from '@/lib/platform/paging';
import type { VialListQuery } from '../wire';

export const withVial = {
  vial: true,
  bird: {
    include: { catalogue: true, taxon: true, bench: { select: { preparatorId: true, scribeId: true } } },
  },
  placement: { include: { unit: true } },
  loanLines: { where: { sentAt: { not: null }, outcome: null }, include: { loan: true } },
} satisfies Prisma.MaterialInclude;

export type VialMaterial = Prisma.MaterialGetPayload<{ include: typeof withVial }>;

/** One vial more than the page holds; newest first. */
export function findVials(
  collectionId: string,
  query: VialListQuery,
  unitIds: readonly string[] | null,
): Promise<VialMaterial[]> {
  const last =
    query.after === undefined ? undefined : readCursor(query.after, z.tuple([cursorInstant, z.uuid()]));
  const like = query.q === undefined ? undefined : { contains: query.q, mode: 'insensitive' as const };
  return db().material.findMany({
    where: {
      collectionId,
      kind: 'vial',
      state: query.state,
      custody: query.custody,
      vial: {
        preservation: query.preservation,
        tissues: query.tissue === undefined ? undefined : { has: query.tissue },
        qualityClass: query.quality === undefined ? undefined : { gte: query.quality },
      },
      placement: unitIds === null ? undefined : { unitId: { in: [...unitIds] } },
      AND: [
        like === undefined
          ? {}
          : {
              OR: [
                { bird: { number: like } },
                { bird: { catalogue: { number: like } } },
                { bird: { taxon: { scientificName: like } } },
                { bird: { taxon: { commonName: like } } },
                { vial: { code: like } },
              ],
            },
        last === undefined
          ? {}
          : {
              OR: [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }],
            },
      ],
    },
    include: withVial,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    relationLoadStrategy: 'query',
    take: query.size + 1,
  });
}

export const findVial = (tx: Tx, collectionId: string, id: string): Promise<VialMaterial | null> =>
  tx.material.findFirst({ where: { id, collectionId, kind: 'vial' }, include: withVial });

/** Locks a vial's row first, so that two people who take from it do so one after the other. */
export async function lockVial(tx: Tx, collectionId: string, id: string): Promise<VialMaterial | null> {
  await tx.$queryRaw`SELECT "materialId" FROM "Vial" WHERE "materialId" = ${id}::uuid FOR UPDATE`;
  return findVial(tx, collectionId, id);
}

export const findVialsOfBird = (tx: Tx, birdId: string): Promise<VialMaterial[]> =>
  tx.material.findMany({
    where: { birdId, kind: 'vial' },
    include: withVial,
    orderBy: [{ createdAt: 'asc' }, { suffix: 'asc' }],
  });

export const findVialsByIds = (
  tx: Tx,
  collectionId: string,
  ids: readonly string[],
): Promise<VialMaterial[]> =>
  tx.material.findMany({ where: { id: { in: [...ids] }, collectionId, kind: 'vial' }, include: withVial });

/** A bird with what filling needs; its row is locked so that two people do not give out the same suffix. */
export async function lockBird(tx: Tx, collectionId: string, id: string) {
  await tx.$queryRaw`SELECT id FROM "Bird" WHERE id = ${id}::uuid FOR UPDATE`;
  return findBird(tx, collectionId, id);
}

export const findBird = (tx: Tx, collectionId: string, id: string) =>
  tx.bird.findFirst({
    where: { id, collectionId },
    include: {
      taxon: true,
      catalogue: true,
      salvage: { select: { foundFrom: true, foundTo: true } },
      bench: { select: { preparatorId: true, scribeId: true } },
      materials: { select: { id: true, kind: true, suffix: true }, orderBy: { createdAt: 'asc' } },
    },
  });
export type BirdRow = NonNullable<Awaited<ReturnType<typeof findBird>>>;

export const insertVial = (tx: Tx, data: Prisma.VialUncheckedCreateInput) => tx.vial.create({ data });

/** Changes the stock of a vial if it still is what the caller saw; 0 when it is not. */
export async function updateStock(
  tx: Tx,
  seen: { materialId: string; amountLeft: number | null; thawCount: number },
  to: { amountLeft: number | null; thawCount: number },
): Promise<number> {
  const { count } = await tx.vial.updateMany({ where: seen, data: to });
  return count;
}

export async function updateVial(tx: Tx, id: string, data: Prisma.VialUncheckedUpdateInput): Promise<void> {
  await tx.vial.update({ where: { materialId: id }, data });
}

/** Raises a material's version if it is still the one the person saw; 0 when it is not. */
export async function raiseVersion(tx: Tx, id: string, version: number): Promise<number> {
  const { count } = await tx.material.updateMany({
    where: { id, version },
    data: { version: { increment: 1 } },
  });
  return count;
}

export const insertUse = (tx: Tx, data: Prisma.VialUseUncheckedCreateInput) => tx.vialUse.create({ data });
export const insertThaw = (tx: Tx, data: Prisma.VialThawUncheckedCreateInput) => tx.vialThaw.create({ data });

/** What was done with a vial, and what came out of it. */
export async function findStory(tx: Tx, id: string) {
  const uses = await tx.vialUse.findMany({ where: { vialId: id }, orderBy: { usedAt: 'desc' } });
  const thaws = await tx.vialThaw.findMany({ where: { vialId: id }, orderBy: { countedAt: 'desc' } });
  const children = await tx.material.findMany({
    where: { parentId: id, kind: 'vial' },
    include: withVial,
    orderBy: { createdAt: 'asc' },
  });
  return { uses, thaws, children };
}

export const findParent = (tx: Tx, id: string) =>
  tx.material.findUnique({ where: { id }, include: { bird: { include: { catalogue: true } } } });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

/** Vials for which a thaw of this log was counted. */
export async function findCounted(tx: Tx, logId: string): Promise<Set<string>> {
  const rows = await tx.vialThaw.findMany({ where: { logId }, select: { vialId: true } });
  return new Set(rows.map((row) => row.vialId));
}

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });
