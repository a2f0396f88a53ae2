import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

/** Well under the 32,767 parameters of one statement. */
const CHUNK = 2000;

export async function insertMoves(
  tx: Tx,
  moves: readonly Prisma.MaterialMoveCreateManyInput[],
): Promise<void> {
  for (let start = 0; start < moves.length; start += CHUNK) {
    await tx.materialMove.createMany({ data: moves.slice(start, start + CHUNK) });
  }
}

export type StayRow = {
  materialId: string;
  fromAt: Date;
  untilAt: Date | null;
};

/** Stays of materials in a freezer that touch a stretch of time, from the moves that brought and took them. */
export function findStays(tx: Tx, freezerId: string, from: Date, to: Date): Promise<StayRow[]> {
  return tx.$queryRaw<StayRow[]>`
    WITH moves AS (
      SELECT m."materialId", m."toFreezerId", m."movedAt" AS "fromAt",
        lead(m."movedAt") OVER (PARTITION BY m."materialId" ORDER BY m."movedAt", m.id) AS "untilAt"
      FROM "MaterialMove" m
      WHERE m."materialId" IN (SELECT "materialId" FROM "MaterialMove" WHERE "toFreezerId" = ${freezerId}::uuid)
    )
    SELECT "materialId", "fromAt", "untilAt" FROM moves
    WHERE "toFreezerId" = ${freezerId}::uuid AND "fromAt" <= ${to} AND ("untilAt" IS NULL OR "untilAt" >= ${from})`;
}
