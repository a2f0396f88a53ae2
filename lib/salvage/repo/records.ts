import 'server-only';
import type { HoldKind } from '@/lib/permits/public';
import type { Actor } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { addDays } from '@/lib/platform/days';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { takeTurns } from '@/lib/platform/tx';
import { longestRangeDays } from '../rules/group-events';

const taxonWithNames = {
  include: {
    synonyms: { select: { scientificName: true } },
    accepted: { select: { scientificName: true } },
  },
} satisfies { include: Prisma.TaxonInclude };

const withFacts = {
  taxon: taxonWithNames,
  finder: true,
  permit: { select: { id: true, number: true, authority: true } },
  accession: { select: { id: true, number: true } },
  bird: { include: { taxon: taxonWithNames } },
  holds: { orderBy: [{ placedAt: 'asc' }, { id: 'asc' }] },
  custody: { orderBy: [{ at: 'asc' }, { id: 'asc' }] },
} satisfies Prisma.SalvageRecordInclude;

export type Find = Prisma.SalvageRecordGetPayload<{ include: typeof withFacts }>;
export type FindData = Prisma.SalvageRecordUncheckedUpdateManyInput;

/** What the column of the ruling holds when there is none. */
export const NO_RULING = Prisma.DbNull;

export const findRecord = (tx: Tx, collectionId: string, id: string): Promise<Find | null> =>
  tx.salvageRecord.findFirst({ where: { id, collectionId }, include: withFacts });

export async function findRecords(tx: Tx, collectionId: string, ids: readonly string[]): Promise<Find[]> {
  // Asked for nothing, all the tables of a record would be asked all the same.
  if (ids.length === 0) return [];
  return tx.salvageRecord.findMany({
    where: { id: { in: [...ids] }, collectionId },
    include: withFacts,
    orderBy: { id: 'asc' },
  });
}

export const findByClientKey = (tx: Tx, collectionId: string, clientKey: string) =>
  tx.salvageRecord.findUnique({
    where: { collectionId_clientKey: { collectionId, clientKey } },
    select: { id: true, receiptCode: true },
  });

export const findNumber = (tx: Tx, { collectionId }: Actor, id: string) =>
  tx.salvageRecord.findUniqueOrThrow({ where: { id, collectionId }, select: { id: true, number: true } });

/** Ids of the records whose verdict an automatic check may renew, in order; those of erased finders keep theirs. */
export async function findCheckable(tx: Tx, collectionId: string): Promise<string[]> {
  const rows = await tx.salvageRecord.findMany({
    where: {
      collectionId,
      state: { not: 'declined' },
      OR: [{ finderId: null }, { finder: { erasedAt: null } }],
    },
    select: { id: true },
    orderBy: { id: 'asc' },
  });
  return rows.map(({ id }) => id);
}

export const insertRecord = (tx: Tx, data: Prisma.SalvageRecordUncheckedCreateInput) =>
  tx.salvageRecord.create({ data, select: { id: true, number: true } });

/** Changes a record if its version is still the one the person saw; 0 when it is not. */
export async function updateRecord(tx: Tx, id: string, version: number, data: FindData): Promise<number> {
  const { count } = await tx.salvageRecord.updateMany({
    where: { id, version },
    data: { ...data, version: { increment: 1 } },
  });
  return count;
}

/** Keeps a new verdict or state; people's edits are not disturbed by it, so the version stays. */
export const keepVerdict = (tx: Tx, id: string, data: Prisma.SalvageRecordUncheckedUpdateInput) =>
  tx.salvageRecord.update({ where: { id }, data, select: { id: true } });

/**
 * Makes the commands of one collection that judge finds take turns: a count against a quota, or of birds at one place,
 * must not be made by two at once.
 */
export async function takeTurn(tx: Tx, collectionId: string): Promise<void> {
  await takeTurns(tx, `salvage ${collectionId}`);
}

export type Days = { from: Date; to: Date };

/**
 * Finds whose possible days touch these, candidates for one event; without days all of them. A find of a group spans no
 * more than `longestRangeDays`, so only first days near these come into question, and an index finds them.
 */
export const findNeighbours = (tx: Tx, collectionId: string, days?: Days) =>
  tx.salvageRecord.findMany({
    where: {
      collectionId,
      state: { not: 'declined' },
      ...(days && {
        foundFrom: { gte: dateColumn(addDays(dayOf(days.from), -longestRangeDays)), lte: days.to },
        foundTo: { gte: days.from },
      }),
    },
    select: {
      id: true,
      foundFrom: true,
      foundTo: true,
      country: true,
      stateProvince: true,
      county: true,
      locality: true,
      latitude: true,
      longitude: true,
      quantity: true,
    },
  });
export type Neighbour = Awaited<ReturnType<typeof findNeighbours>>[number];

export const insertHold = (
  tx: Tx,
  input: {
    salvageId: string;
    kind: HoldKind;
    reason: string;
    ruleCode: string | null;
    tellWhom: string | null;
    placedBy: string | null;
    placedAt: Date;
  },
) => tx.hold.create({ data: input, select: { id: true } });

/** Lifts an open hold; 0 when somebody lifted it before. */
export async function updateHold(
  tx: Tx,
  id: string,
  data: { liftedAt: Date; liftedBy: string | null; liftNote: string; document: string | null },
): Promise<number> {
  const { count } = await tx.hold.updateMany({ where: { id, liftedAt: null }, data });
  return count;
}

export const insertCustody = (
  tx: Tx,
  input: {
    salvageId: string;
    at: Date;
    fromWhom: string;
    toWhom: string;
    note: string | null;
    recordedBy: string | null;
  },
) => tx.custodyEvent.create({ data: input, select: { id: true } });

export const insertFinder = (
  tx: Tx,
  data: {
    collectionId: string;
    name: string | null;
    email: string | null;
    phone: string | null;
    address: string | null;
  },
) => tx.finder.create({ data, select: { id: true } });

export const updateFinder = (
  tx: Tx,
  id: string,
  data: {
    name: string | null;
    email: string | null;
    phone: string | null;
    address: string | null;
  },
) => tx.finder.update({ where: { id }, data });

export const insertBird = (
  tx: Tx,
  input: {
    collectionId: string;
    salvageId: string;
    number: string;
    taxonId: string | null;
    state: string;
    frozenAt: Date | null;
  },
) => tx.bird.create({ data: input, select: { id: true } });

/** Records a new identification of a bird as the current one; the earlier ones stay. */
export async function insertDetermination(
  tx: Tx,
  input: {
    birdId: string;
    taxonId: string | null;
    verbatim: string;
    determinedBy: string;
    on: string;
    remarks: string;
  },
): Promise<void> {
  const { on, ...rest } = input;
  await tx.determination.updateMany({
    where: { birdId: input.birdId, current: true },
    data: { current: false },
  });
  await tx.determination.create({ data: { ...rest, determinedOn: dateColumn(on), current: true } });
  await tx.bird.update({
    where: { id: input.birdId },
    data: { taxonId: input.taxonId, version: { increment: 1 } },
  });
}

export const findTaxon = (tx: Tx, id: string) => tx.taxon.findUnique({ where: { id }, select: { id: true } });

export const findMember = (tx: Tx, collectionId: string, personId: string) =>
  tx.membership.findFirst({
    where: { collectionId, personId },
    select: { person: { select: { name: true } } },
  });

export const findPermitNumber = (tx: Tx, collectionId: string, id: string) =>
  tx.permit.findFirst({ where: { id, collectionId }, select: { number: true } });

export const findNamedPlace = (tx: Tx, collectionId: string, id: string) =>
  tx.place.findFirst({ where: { id, collectionId }, select: { id: true } });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

/** Where the latest find was made: what a new report begins with. */
export const findLatestPlace = (tx: Tx, collectionId: string) =>
  tx.salvageRecord.findFirst({
    where: { collectionId, source: 'staff' },
    select: { country: true, stateProvince: true },
    orderBy: { loggedAt: 'desc' },
  });

export const isSensitive = async (tx: Tx, taxonId: string | null): Promise<boolean> =>
  taxonId !== null && (await tx.taxon.count({ where: { id: taxonId, sensitive: true } })) > 0;
