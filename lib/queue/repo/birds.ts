import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { readCursor } from '@/lib/platform/paging';
import type { Priority } from '../rules/priority';
import type { QueueListQuery } from '../wire';

const shown = {
  taxon: { select: { scientificName: true, commonName: true } },
  salvage: {
    select: {
      verbatimTaxon: true,
      condition: true,
      cause: true,
      accessionId: true,
      holds: { where: { liftedAt: null }, select: { kind: true, reason: true } },
    },
  },
  materials: {
    where: { kind: 'carcass' },
    select: { placement: { select: { position: true, unit: { select: { path: true } } } } },
  },
} satisfies Prisma.BirdInclude;

/** What a row of the queue shows. */
export type ShownBird = Prisma.BirdGetPayload<{ include: typeof shown }>;

const withFacts = {
  taxon: true,
  salvage: { include: { holds: { where: { liftedAt: null } }, permit: true } },
  materials: {
    where: { kind: 'carcass' },
    include: { placement: { include: { unit: { include: { parent: { include: { parent: true } } } } } } },
  },
} satisfies Prisma.BirdInclude;

/** With what its priority is computed from: the permit, and the units around its place. */
export type QueueBird = Prisma.BirdGetPayload<{ include: typeof withFacts }>;

/** One more bird than the page holds; highest priority first. */
export async function findQueue(collectionId: string, query: QueueListQuery): Promise<ShownBird[]> {
  const last =
    query.after === undefined ? undefined : readCursor(query.after, z.tuple([z.number(), z.uuid()]));
  const orderBy: Prisma.BirdOrderByWithRelationInput[] = [{ priority: 'desc' }, { id: 'asc' }];
  const page = await db().bird.findMany({
    where: {
      collectionId,
      state: { in: query.states },
      styleId: query.style,
      sizeClass: query.sizeClass,
      claimedById: query.claimedById,
      AND: [
        query.held === undefined
          ? {}
          : { salvage: { holds: query.held ? { some: { liftedAt: null } } : { none: { liftedAt: null } } } },
        query.q === undefined
          ? {}
          : {
              OR: [
                { number: { contains: query.q, mode: 'insensitive' } },
                { taxon: { scientificName: { contains: query.q, mode: 'insensitive' } } },
                { taxon: { commonName: { contains: query.q, mode: 'insensitive' } } },
              ],
            },
        last === undefined
          ? {}
          : { OR: [{ priority: { lt: last[0] } }, { priority: last[0], id: { gt: last[1] } }] },
      ],
    },
    select: { id: true },
    orderBy,
    take: query.size + 1,
  });
  // What stands around them is read of these alone, not of all that wait.
  return db().bird.findMany({ where: { id: { in: page.map(({ id }) => id) } }, include: shown, orderBy });
}

export const findBird = (tx: Tx, collectionId: string, id: string): Promise<QueueBird | null> =>
  tx.bird.findFirst({ where: { id, collectionId }, include: withFacts });

export const findShownBird = (collectionId: string, id: string): Promise<ShownBird | null> =>
  db().bird.findFirst({ where: { id, collectionId }, include: shown });

/** What decides whether a bird may be taken. */
export type ClaimBird = Pick<QueueBird, 'id' | 'number' | 'state' | 'styleId' | 'sizeClass'> & {
  salvage: { holds: readonly { kind: string }[] };
};

/** The state of a bird as it was a moment ago; null when the collection has no such bird. */
export async function findState(collectionId: string, id: string): Promise<string | null> {
  const bird = await db().bird.findFirst({ where: { id, collectionId }, select: { state: true } });
  return bird?.state ?? null;
}

/**
 * Locks a bird without waiting and reads what decides whether it may be taken, with the collection's settings; null
 * when another transaction has it in hand.
 */
export async function lockClaimBird(
  tx: Tx,
  collectionId: string,
  id: string,
): Promise<(ClaimBird & { settings: unknown }) | null> {
  const [bird] = await tx.$queryRaw<(ClaimBird & { settings: unknown })[]>`
    SELECT b.id, b.number, b.state, b."styleId", b."sizeClass", c.settings, json_build_object('holds', COALESCE((
        SELECT json_agg(json_build_object('kind', h.kind)) FROM "Hold" h
        WHERE h."salvageId" = b."salvageId" AND h."liftedAt" IS NULL), '[]')) AS salvage
    FROM "Bird" b JOIN "Collection" c ON c.id = b."collectionId"
    WHERE b.id = ${id}::uuid AND b."collectionId" = ${collectionId}::uuid FOR UPDATE OF b SKIP LOCKED`;
  return bird ?? null;
}

export const findBirds = (tx: Tx, collectionId: string, ids: readonly string[]): Promise<QueueBird[]> =>
  tx.bird.findMany({
    where: { id: { in: [...ids] }, collectionId },
    include: withFacts,
    orderBy: { id: 'asc' },
  });

/** Birds by condition, the most urgent first. */
export const findBirdsWhere = (tx: Tx, where: Prisma.BirdWhereInput, take: number): Promise<QueueBird[]> =>
  tx.bird.findMany({ where, include: withFacts, orderBy: [{ priority: 'desc' }, { id: 'asc' }], take });

export const findAllQueued = (tx: Tx, collectionId: string): Promise<QueueBird[]> =>
  tx.bird.findMany({ where: { collectionId, state: 'queued' }, include: withFacts, orderBy: { id: 'asc' } });

/** Changes a bird if its state (and version, when given) is still what the caller saw; 0 when it is not. */
export async function updateBird(
  tx: Tx,
  where: { id: string; state: string; version?: number; claimedById?: string },
  data: Prisma.BirdUncheckedUpdateManyInput,
): Promise<number> {
  const { count } = await tx.bird.updateMany({ where, data: { ...data, version: { increment: 1 } } });
  return count;
}

/** Locks the claimant's row, so that two presses of one person cannot pass the limit together, and counts. */
export async function countOpenClaims(tx: Tx, collectionId: string, personId: string): Promise<number> {
  await tx.$queryRaw`SELECT id FROM "Person" WHERE id = ${personId}::uuid FOR UPDATE`;
  return tx.bird.count({
    where: { collectionId, claimedById: personId, state: { in: ['claimed', 'thawing', 'on-the-bench'] } },
  });
}

export const findSkills = (tx: Tx, collectionId: string, personId: string) =>
  tx.personSkill.findMany({ where: { collectionId, personId } });

export const findColleague = (tx: Tx, collectionId: string, id: string) =>
  tx.person.findFirst({
    where: { id, active: true, memberships: { some: { collectionId } } },
    include: { memberships: { where: { collectionId } }, skills: { where: { collectionId } } },
  });

/** People who may work at the bench, with their skills. */
export const findBenchPeople = (collectionId: string) =>
  db().person.findMany({
    where: {
      active: true,
      memberships: { some: { collectionId, role: { in: ['volunteer', 'preparator', 'curator'] } } },
    },
    include: { memberships: { where: { collectionId } }, skills: { where: { collectionId } } },
    orderBy: { name: 'asc' },
  });

export async function writeSkill(
  tx: Tx,
  key: { personId: string; collectionId: string; styleId: string; sizeClass: string },
  level: string | null,
  signed: { by: string; at: Date },
): Promise<void> {
  if (level === null) {
    await tx.personSkill.deleteMany({ where: key });
    return;
  }
  const data = { level, signedOffBy: signed.by, signedOffAt: signed.at };
  await tx.personSkill.upsert({
    where: { personId_collectionId_styleId_sizeClass: key },
    create: { ...key, ...data },
    update: data,
  });
}

export async function findNames(ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await db().person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

/** How many catalogued birds the collection has of each of these taxa. */
export async function countCatalogued(tx: Tx, collectionId: string, taxonIds: readonly string[]) {
  const rows = await tx.bird.groupBy({
    by: ['taxonId'],
    where: { collectionId, taxonId: { in: [...taxonIds] }, catalogue: { isNot: null } },
    _count: true,
  });
  return new Map(rows.map(({ taxonId, _count }) => [taxonId ?? '', _count]));
}

export async function writePriorities(tx: Tx, priorities: readonly Priority[]): Promise<void> {
  if (priorities.length === 0) return;
  await tx.$executeRaw`
    UPDATE "Bird" SET priority = p.total, "priorityDetail" = p.parts
    FROM jsonb_to_recordset(${JSON.stringify(priorities)}::jsonb) AS p("birdId" uuid, total float8, parts jsonb)
    WHERE "Bird".id = p."birdId"`;
}

/** Claims with an end whose bird has not left the freezer. */
export const findWaitingClaims = (tx: Tx, collectionId: string) =>
  tx.bird.findMany({
    where: { collectionId, state: 'claimed', claimExpiresAt: { not: null }, claimedById: { not: null } },
    select: {
      id: true,
      number: true,
      state: true,
      version: true,
      claimedById: true,
      claimExpiresAt: true,
      claimNoticedAt: true,
    },
    orderBy: { id: 'asc' },
  });

export const listCollectionIds = (): Promise<{ id: string }[]> =>
  db().collection.findMany({ select: { id: true }, orderBy: { id: 'asc' } });

/** The collection's settings, locked until the transaction ends, so that two savers come one after the other. */
export async function lockSettings(tx: Tx, id: string): Promise<Record<string, unknown>> {
  await tx.$queryRaw`SELECT id FROM "Collection" WHERE id = ${id}::uuid FOR UPDATE`;
  const { settings } = await tx.collection.findUniqueOrThrow({ where: { id }, select: { settings: true } });
  return settings as Record<string, unknown>;
}

export async function writeSettings(tx: Tx, id: string, settings: Record<string, unknown>): Promise<void> {
  await tx.collection.update({ where: { id }, data: { settings: settings as Prisma.InputJsonObject } });
}

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

export const countClaims = (collectionId: string, personId: string) =>
  db().bird.count({
    where: { collectionId, claimedById: personId, state: { in: ['claimed', 'thawing', 'on-the-bench'] } },
  });
