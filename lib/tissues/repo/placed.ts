import 'server-only';
import type { Tx } from '@/lib/platform/db';

export type PlacedVial = {
  materialId: string;
  unitId: string;
  preservation: string;
  qualityClass: number | null;
  thawCount: number;
  /** Units in which other vials of the same bird lie. */
  otherUnitIds: string[];
  /** Granted to a borrower and not sent yet. */
  isPromised: boolean;
};

/** Vials in these units with what decides which of them must be saved first. */
export function findPlacedVials(
  tx: Tx,
  collectionId: string,
  unitIds: readonly string[],
): Promise<PlacedVial[]> {
  return tx.$queryRaw<PlacedVial[]>`
    SELECT m.id AS "materialId", p."unitId", v.preservation, v."qualityClass", v."thawCount",
      ARRAY(SELECT DISTINCT op."unitId"::text FROM "Material" o JOIN "Placement" op ON op."materialId" = o.id
        WHERE o."birdId" = m."birdId" AND o.kind = 'vial' AND o.id <> m.id) AS "otherUnitIds",
      EXISTS (SELECT 1 FROM "LoanLine" l JOIN "Loan" n ON n.id = l."loanId"
        WHERE l."materialId" = m.id AND l."sentAt" IS NULL AND n.state IN ('granted', 'packed')) AS "isPromised"
    FROM "Placement" p JOIN "Material" m ON m.id = p."materialId" JOIN "Vial" v ON v."materialId" = m.id
    WHERE m."collectionId" = ${collectionId}::uuid AND p."unitId" = ANY(${[...unitIds]}::uuid[])`;
}
