import 'server-only';
import { db } from '@/lib/platform/db';
import type { WaitingCounts } from '../stages';

/** Counts of what waits, in one round trip. */
export async function countWaiting(collectionId: string, today: Date): Promise<WaitingCounts> {
  const [row] = await db().$queryRaw<Record<keyof WaitingCounts, bigint>[]>`
    SELECT
      (SELECT count(*) FROM "Permit" WHERE "collectionId" = c.id
         AND "expiresOn" BETWEEN ${today}::date AND ${today}::date + 60) AS permits,
      (SELECT count(*) FROM "SalvageRecord" WHERE "collectionId" = c.id AND state IN ('reported', 'in-triage', 'on-hold')) AS salvage,
      (SELECT count(*) FROM "SalvageRecord" WHERE "collectionId" = c.id AND state = 'accepted' AND "accessionId" IS NULL) AS accessions,
      (SELECT count(*) FROM "Bird" WHERE "collectionId" = c.id AND state = 'queued') AS queue,
      (SELECT count(*) FROM "BenchRecord" WHERE "collectionId" = c.id AND state IN ('draft', 'returned')) AS bench,
      (SELECT count(*) FROM "Material" m WHERE m."collectionId" = c.id AND kind = 'vial' AND state = 'filled') AS tissues,
      (SELECT count(*) FROM "Material" WHERE "collectionId" = c.id AND kind = 'skeleton' AND state <> 'shelved') AS skeletons,
      (SELECT count(*) FROM "Material" WHERE "collectionId" = c.id AND kind = 'skin' AND state <> 'shelved') AS skins,
      (SELECT count(*) FROM "BenchRecord" WHERE "collectionId" = c.id AND state = 'in-review') AS catalogue,
      (SELECT count(*) FROM "Loan" WHERE "collectionId" = c.id AND state NOT IN ('closed', 'declined')) AS loans,
      (SELECT count(*) FROM "PermitReport" WHERE "collectionId" = c.id AND state IN ('open', 'ready')) AS reports
    FROM "Collection" c WHERE c.id = ${collectionId}::uuid`;
  if (row === undefined) throw new Error('The collection is gone.');
  return Object.fromEntries(
    Object.entries(row).map(([stage, count]) => [stage, Number(count)]),
  ) as WaitingCounts;
}

export const findCollection = (id: string) => db().collection.findUniqueOrThrow({ where: { id } });
