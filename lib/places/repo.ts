import 'server-only';
import { z } from 'zod';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { readCursor } from '@/lib/platform/paging';
import type { PlaceListQuery } from './schema';

/** One more place than the page holds, by name. */
export function findPlaces(tx: Tx, collectionId: string, { q, shown, after, size }: PlaceListQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([z.string()]))[0];
  const contains = q === undefined ? undefined : { contains: q, mode: 'insensitive' as const };
  return tx.place.findMany({
    where: {
      collectionId,
      active: shown === 'in-use',
      name: last === undefined ? undefined : { gt: last },
      OR:
        contains === undefined
          ? undefined
          : [{ name: contains }, { county: contains }, { stateProvince: contains }],
    },
    orderBy: { name: 'asc' },
    take: size + 1,
  });
}

export const findPlace = (tx: Tx, collectionId: string, id: string) =>
  tx.place.findFirst({ where: { id, collectionId } });

export const countBirds = (tx: Tx, collectionId: string, placeId: string) =>
  tx.salvageRecord.count({ where: { collectionId, placeId } });

export type PlaceColumns = {
  name: string;
  country: string;
  stateProvince: string;
  county: string;
  latitude: number | null;
  longitude: number | null;
  datum: string | null;
  uncertaintyM: number | null;
  uncertaintyDetail: { terms: unknown; formula: string } | null;
  verbatimCoordinates: string | null;
  remarks: string | null;
};

const columnsOf = ({ uncertaintyDetail, ...columns }: PlaceColumns) => ({
  ...columns,
  uncertaintyDetail:
    uncertaintyDetail === null ? Prisma.DbNull : (uncertaintyDetail as unknown as Prisma.InputJsonValue),
});

export const insertPlace = (tx: Tx, collectionId: string, columns: PlaceColumns) =>
  tx.place.create({ data: { collectionId, ...columnsOf(columns) } });

/** Changes a place if its version is still the one the person saw; 0 when it is not. */
export async function updatePlace(
  tx: Tx,
  id: string,
  version: number,
  { active, ...columns }: PlaceColumns & { active: boolean },
): Promise<number> {
  const { count } = await tx.place.updateMany({
    where: { id, version },
    data: { ...columnsOf(columns), active, version: { increment: 1 } },
  });
  return count;
}
