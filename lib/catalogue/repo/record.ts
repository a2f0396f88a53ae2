import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';

const withSheet = {
  taxon: true,
  bench: { include: { entries: { where: { supersededAt: { not: null } }, orderBy: { enteredAt: 'desc' } } } },
  catalogue: { include: { amendments: { orderBy: { amendedAt: 'desc' } } } },
  bones: { orderBy: [{ element: 'asc' }, { side: 'asc' }, { portion: 'asc' }] },
  determinations: { orderBy: { recordedAt: 'desc' } },
  index: { select: { preparedOn: true } },
  salvage: { include: { permit: true, accession: true } },
  materials: {
    orderBy: { suffix: 'asc' },
    include: { vial: true, placement: { include: { unit: true } }, deaccession: true },
  },
} satisfies Prisma.BirdInclude;

/** A bird with everything its specimen sheet shows. */
export type SheetBird = Prisma.BirdGetPayload<{ include: typeof withSheet }>;

/** @param approvedOnly for readers who see approved records only */
export const findSheet = (
  tx: Tx,
  collectionId: string,
  birdId: string,
  approvedOnly: boolean,
): Promise<SheetBird | null> =>
  tx.bird.findFirst({
    where: { id: birdId, collectionId, ...(approvedOnly ? { catalogue: { isNot: null } } : {}) },
    include: withSheet,
  });

export const findTaxonName = async (tx: Tx, id: string): Promise<string | null> =>
  (await tx.taxon.findUnique({ where: { id }, select: { scientificName: true } }))?.scientificName ?? null;

export async function findTaxonNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => id !== null))];
  const taxa = await tx.taxon.findMany({
    where: { id: { in: wanted } },
    select: { id: true, scientificName: true },
  });
  return new Map(taxa.map(({ id, scientificName }) => [id, scientificName]));
}

/** Writes an amendment: both values and the reason. */
export const insertAmendment = (
  tx: Tx,
  data: {
    entryId: string;
    field: string;
    before: unknown;
    after: unknown;
    reason: string;
    amendedById: string;
    amendedAt: Date;
  },
) =>
  tx.amendment.create({
    data: { ...data, before: jsonOrNull(data.before), after: jsonOrNull(data.after) },
  });

const jsonOrNull = (value: unknown) => (value === null ? Prisma.JsonNull : (value as Prisma.InputJsonValue));

/** Puts the amended value into an approved record if its version is still the one read; 0 when it is not. */
export async function writeAmendedValues(
  tx: Tx,
  benchId: string,
  version: number,
  values: Record<string, unknown>,
): Promise<number> {
  const { count } = await tx.benchRecord.updateMany({
    where: { id: benchId, version, state: 'approved' },
    data: { values: values as Prisma.InputJsonValue, version: { increment: 1 } },
  });
  return count;
}

/** Makes a determination the current one; those before it stay as history. The bird's taxon follows. */
export async function insertDetermination(
  tx: Tx,
  data: {
    birdId: string;
    taxonId: string | null;
    verbatim: string;
    qualifier: string | null;
    determinedBy: string;
    determinedOn: Date;
    remarks: string | null;
  },
): Promise<void> {
  await tx.$queryRaw`SELECT id FROM "Bird" WHERE id = ${data.birdId}::uuid FOR UPDATE`;
  await tx.determination.updateMany({
    where: { birdId: data.birdId, current: true },
    data: { current: false },
  });
  await tx.determination.create({ data });
  await tx.bird.update({
    where: { id: data.birdId },
    data: { taxonId: data.taxonId, version: { increment: 1 } },
  });
}

export const findOwnMaterial = (tx: Tx, birdId: string, id: string) =>
  tx.material.findFirst({
    where: { id, birdId },
    include: { bird: { include: { catalogue: true } }, placement: { include: { unit: true } } },
  });

export const insertDeaccession = (
  tx: Tx,
  data: {
    materialId: string;
    collectionId: string;
    method: string;
    leftOn: Date;
    authority: string;
    document: string;
    documentId: string | null;
    recipient: string | null;
    recipientAuthority: string | null;
    witness: string | null;
    reason: string;
    recordedById: string;
  },
) => tx.deaccession.create({ data });

/** Locks a material if its version is still the one the person saw; 0 when it is not. */
export async function claimMaterial(tx: Tx, id: string, version: number): Promise<number> {
  const { count } = await tx.material.updateMany({
    where: { id, version },
    data: { version: { increment: 1 } },
  });
  return count;
}

/** Says how and when the bird left, once nothing of it is left here. */
export async function closeBirdIfGone(
  tx: Tx,
  birdId: string,
  left: { disposition: string; disposedOn: Date; dispositionDetail: Prisma.InputJsonObject },
): Promise<void> {
  const here = await tx.material.count({
    where: { birdId, custody: { in: ['on-shelf', 'on-loan', 'missing'] } },
  });
  if (here === 0)
    await tx.bird.update({ where: { id: birdId }, data: { ...left, version: { increment: 1 } } });
}
