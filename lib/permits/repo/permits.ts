import 'server-only';
import { z } from 'zod';
import { dateColumn } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { readCursor } from '@/lib/platform/paging';
import type { PermitListQuery, PermitText } from '../wire';

const withText = {
  amendments: { orderBy: { version: 'asc' } },
  reports: { where: { state: { in: ['signed', 'amended'] } }, select: { fromOn: true, toOn: true } },
  replaces: { select: { id: true, number: true } },
  replacedBy: { select: { id: true, number: true }, orderBy: { effectiveOn: 'asc' } },
} satisfies Prisma.PermitInclude;
/** For its readers: the rules count birds by their own reading, and a permit may hold very many. */
const withBirds = {
  ...withText,
  _count: { select: { salvages: { where: { state: { not: 'declined' } } } } },
} satisfies Prisma.PermitInclude;

export type PermitFound = Prisma.PermitGetPayload<{ include: typeof withText }>;
export type PermitRowFound = Prisma.PermitGetPayload<{ include: typeof withBirds }>;

const standingFilter = (standing: PermitListQuery['standing'], today: Date): Prisma.PermitWhereInput => {
  if (standing === undefined) return {};
  if (standing === 'coming') return { effectiveOn: { gt: today } };
  if (standing === 'ended') return { expiresOn: { lt: today } };
  return { effectiveOn: { lte: today }, OR: [{ expiresOn: null }, { expiresOn: { gte: today } }] };
};

/** One more permit than the page holds, the latest in effect first. */
export function findPermits(
  collectionId: string,
  { q, standing, after, size }: PermitListQuery,
  today: string,
): Promise<PermitRowFound[]> {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([z.iso.date(), z.uuid()]));
  return db().permit.findMany({
    where: {
      collectionId,
      AND: [
        standingFilter(standing, dateColumn(today)),
        q === undefined
          ? {}
          : {
              OR: [
                { number: { contains: q, mode: 'insensitive' } },
                { authority: { contains: q, mode: 'insensitive' } },
                { holder: { contains: q, mode: 'insensitive' } },
              ],
            },
        last === undefined
          ? {}
          : {
              OR: [
                { effectiveOn: { lt: dateColumn(last[0]) } },
                { effectiveOn: dateColumn(last[0]), id: { lt: last[1] } },
              ],
            },
      ],
    },
    include: withBirds,
    orderBy: [{ effectiveOn: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}

export const findPermit = (tx: Tx, collectionId: string, id: string): Promise<PermitRowFound | null> =>
  tx.permit.findFirst({ where: { id, collectionId }, include: withBirds });

/** Every permit of a collection: the coverage check chooses by the day of finding, not by today. */
export const findAllPermits = (tx: Tx, collectionId: string): Promise<PermitFound[]> =>
  tx.permit.findMany({
    where: { collectionId },
    include: withText,
    orderBy: [{ effectiveOn: 'desc' }, { id: 'asc' }],
  });

export const findPermitByNumber = (tx: Tx, collectionId: string, authority: string, number: string) =>
  tx.permit.findUnique({
    where: { collectionId_authority_number: { collectionId, authority, number } },
    select: { id: true },
  });

export const insertPermit = (tx: Tx, data: Prisma.PermitUncheckedCreateInput) =>
  tx.permit.create({ data, select: { id: true } });

/** Changes a permit if its version is still the one the person saw; 0 when it is not. */
export async function updatePermit(
  tx: Tx,
  id: string,
  version: number,
  data: Prisma.PermitUncheckedUpdateManyInput,
): Promise<number> {
  const { count } = await tx.permit.updateMany({
    where: { id, version },
    data: { ...data, version: { increment: 1 } },
  });
  return count;
}

export const insertAmendment = (
  tx: Tx,
  input: {
    permitId: string;
    version: number;
    effectiveOn: string;
    before: PermitText;
    reason: string;
    amendedBy: string;
  },
) => tx.permitAmendment.create({ data: { ...input, effectiveOn: dateColumn(input.effectiveOn) } });

/** Birds that count under these permits, with what a quota asks of each. */
export const findCounted = (
  tx: Tx,
  collectionId: string,
  permitIds: readonly string[],
  { from, to }: { from: Date; to: Date },
) =>
  tx.salvageRecord.findMany({
    where: {
      collectionId,
      permitId: { in: [...permitIds] },
      state: { not: 'declined' },
      foundTo: { gte: from, lte: to },
    },
    select: {
      id: true,
      permitId: true,
      foundTo: true,
      quantity: true,
      taxon: {
        include: {
          synonyms: { select: { scientificName: true } },
          accepted: { select: { scientificName: true } },
        },
      },
    },
  });

/** Which of these people belong to the collection. */
export async function findMembers(
  tx: Tx,
  collectionId: string,
  ids: readonly string[],
): Promise<Set<string>> {
  const found = await tx.membership.findMany({
    where: { collectionId, personId: { in: [...ids] } },
    select: { personId: true },
  });
  return new Set(found.map(({ personId }) => personId));
}

export async function findNames(tx: Tx, ids: readonly string[]): Promise<Map<string, string>> {
  const people = await tx.person.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

export const listCollectionIds = (): Promise<{ id: string }[]> =>
  db().collection.findMany({ select: { id: true }, orderBy: { id: 'asc' } });
