import 'server-only';
import { LOAN_STATES, type LoanState } from '@/lib/loans/schema';
import { db } from '@/lib/platform/db';
import { BRANCH_STATES } from '../rules/life';
import type { WaitingCounts } from '../stages';

const ENDED: readonly LoanState[] = ['closed', 'declined'];
const OPEN_LOANS = LOAN_STATES.filter((state) => !ENDED.includes(state));
const UNSHELVED_SKELETONS = BRANCH_STATES.skeleton.slice(0, -1);
const UNSHELVED_SKINS = BRANCH_STATES.skin.slice(0, -1);

/** Counts of what waits, in one round trip. States are named, not excluded: an index leads to what waits, past all that is done. */
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
      (SELECT count(*) FROM "Material" WHERE "collectionId" = c.id AND kind = 'skeleton' AND state = ANY(${UNSHELVED_SKELETONS})) AS skeletons,
      (SELECT count(*) FROM "Material" WHERE "collectionId" = c.id AND kind = 'skin' AND state = ANY(${UNSHELVED_SKINS})) AS skins,
      (SELECT count(*) FROM "BenchRecord" WHERE "collectionId" = c.id AND state = 'in-review') AS catalogue,
      (SELECT count(*) FROM "Loan" WHERE "collectionId" = c.id AND state = ANY(${OPEN_LOANS})) AS loans,
      (SELECT count(*) FROM "PermitReport" WHERE "collectionId" = c.id AND state IN ('open', 'ready')) AS reports
    FROM "Collection" c WHERE c.id = ${collectionId}::uuid`;
  if (row === undefined) throw new Error('The collection is gone.');
  return Object.fromEntries(
    Object.entries(row).map(([stage, count]) => [stage, Number(count)]),
  ) as WaitingCounts;
}

export const findCollection = (id: string) => db().collection.findUniqueOrThrow({ where: { id } });
