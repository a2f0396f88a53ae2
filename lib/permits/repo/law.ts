import 'server-only';
import { dateColumn } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import type { TaxonList } from '../coverage-schema';
import type { RulePack } from '../pack-schema';

export const findPacks = (tx: Tx, collectionId: string) =>
  tx.rulePack.findMany({
    where: { collectionId },
    orderBy: [{ key: 'asc' }, { loadedAt: 'desc' }, { id: 'desc' }],
  });
export type PackFound = Awaited<ReturnType<typeof findPacks>>[number];

export const findPack = (tx: Tx, collectionId: string, id: string) =>
  tx.rulePack.findFirst({ where: { id, collectionId } });

/** Reads a pack for changing; others wait until this transaction ends. */
export async function lockPack(tx: Tx, collectionId: string, id: string) {
  await tx.$queryRaw`SELECT id FROM "RulePack" WHERE id = ${id}::uuid AND "collectionId" = ${collectionId}::uuid FOR UPDATE`;
  return findPack(tx, collectionId, id);
}

export const insertPack = (
  tx: Tx,
  input: {
    collectionId: string;
    pack: RulePack;
    confirmations: Prisma.InputJsonObject;
    loadedById: string | null;
    loadedAt: Date;
  },
) =>
  tx.rulePack.create({
    data: {
      collectionId: input.collectionId,
      key: input.pack.packId,
      version: input.pack.version,
      title: input.pack.title,
      content: input.pack as unknown as Prisma.InputJsonObject,
      confirmations: input.confirmations,
      loadedById: input.loadedById,
      loadedAt: input.loadedAt,
    },
  });

export const updatePack = (
  tx: Tx,
  id: string,
  data: { active?: boolean; confirmations?: Prisma.InputJsonObject },
) => tx.rulePack.update({ where: { id }, data });

export const findLists = (tx: Tx, collectionId: string) =>
  tx.statusList.findMany({
    where: { collectionId },
    include: {
      _count: { select: { rows: true } },
      rows: {
        where: { match: 'none' },
        select: { scientificName: true, englishName: true },
        orderBy: { scientificName: 'asc' },
      },
    },
    orderBy: [{ key: 'asc' }, { editionOn: 'desc' }, { loadedAt: 'desc' }],
  });
export type ListFound = Awaited<ReturnType<typeof findLists>>[number];

export const findListRows = (tx: Tx, listId: string) =>
  tx.statusListRow.findMany({ where: { listId }, orderBy: { scientificName: 'asc' } });

export const findEdition = (tx: Tx, collectionId: string, key: string, edition: string) =>
  tx.statusList.findUnique({
    where: { collectionId_key_edition: { collectionId, key, edition } },
    select: { id: true },
  });

export async function insertList(
  tx: Tx,
  input: {
    collectionId: string;
    list: TaxonList;
    credit: string | null;
    loadedById: string | null;
    loadedAt: Date;
  },
): Promise<string> {
  const { list } = input;
  const { id } = await tx.statusList.create({
    data: {
      collectionId: input.collectionId,
      key: list.listId,
      title: list.title,
      jurisdiction: list.jurisdiction,
      effect: list.effect,
      source: list.source,
      edition: list.edition,
      editionOn: dateColumn(list.editionOn),
      credit: input.credit,
      loadedById: input.loadedById,
      loadedAt: input.loadedAt,
    },
    select: { id: true },
  });
  await tx.statusListRow.createMany({
    data: list.entries.map((entry) => ({
      listId: id,
      scientificName: entry.name,
      englishName: entry.englishName,
      acceptedName: entry.acceptedName,
      match: entry.match,
      familyName: entry.family,
      orderName: entry.order,
    })),
  });
  return id;
}

/** The names of the checklist in use, to join a list with. */
export const findChecklistNames = (tx: Tx) =>
  tx.taxon.findMany({
    where: { checklist: { current: true } },
    select: {
      scientificName: true,
      commonName: true,
      familyName: true,
      orderName: true,
      accepted: { select: { scientificName: true } },
    },
  });

export const findDecisions = (tx: Tx, collectionId: string) =>
  tx.statusDecision.findMany({
    where: { collectionId, withdrawnAt: null },
    orderBy: [{ scientificName: 'asc' }, { id: 'asc' }],
  });

export const insertDecision = (tx: Tx, data: Prisma.StatusDecisionUncheckedCreateInput) =>
  tx.statusDecision.create({ data });

export const findDecision = (tx: Tx, collectionId: string, id: string) =>
  tx.statusDecision.findFirst({ where: { id, collectionId } });

/** Withdraws a decision that stands; 0 when it was withdrawn already. */
export async function withdrawDecision(tx: Tx, id: string, at: Date, byId: string): Promise<number> {
  const { count } = await tx.statusDecision.updateMany({
    where: { id, withdrawnAt: null },
    data: { withdrawnAt: at, withdrawnById: byId },
  });
  return count;
}
