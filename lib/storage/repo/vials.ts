import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

export type VialRow = Prisma.VialGetPayload<object>;

/** Writes where vials are kept and the class that follows; thousands at once when a freezer moves. */
export async function updateRatings(
  tx: Tx,
  ids: readonly string[],
  rating: { storedAtC: number | null; qualityClass: number | null; qualityReason: string },
): Promise<void> {
  await tx.$executeRaw`UPDATE "Vial" SET "storedAtC" = ${rating.storedAtC}::float8,
    "qualityClass" = ${rating.qualityClass}::int, "qualityReason" = ${rating.qualityReason}
    WHERE "materialId" = ANY(${[...ids]}::uuid[])`;
}

/** Everything that lies in these units, with what decides how it must be kept. */
export const findContents = (tx: Tx, unitIds: readonly string[]) =>
  tx.placement.findMany({
    where: { unitId: { in: [...unitIds] } },
    include: {
      unit: { select: { path: true } },
      material: { include: { vial: true, bird: { select: { number: true, catalogue: true } } } },
    },
  });
export type ContentRow = Awaited<ReturnType<typeof findContents>>[number];
