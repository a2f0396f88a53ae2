import 'server-only';
import type { FieldId } from '@/lib/bench/fields';
import type { Tx } from '@/lib/platform/db';

/** Birds of the taxon that numbers are held against; when there are more, those that came into the house last. */
const MOST_PEERS = 400;

/** What birds of one sex that died in one month have as one field. */
export interface PeerValues {
  field: FieldId;
  sex: string;
  /** Month of death, 1 to 12; null when the interval spans more than one. */
  month: number | null;
  values: unknown[];
}

/**
 * Values of the other birds of a taxon here, in one query. Each record is looked up by its bird (OFFSET keeps the planner
 * from joining the table at large, of which it would read far more than these birds).
 */
export function findPeerValues(
  tx: Tx,
  of: { collectionId: string; taxonId: string; exceptRecordId: string },
  fields: readonly FieldId[],
  most = MOST_PEERS,
): Promise<PeerValues[]> {
  return tx.$queryRaw<PeerValues[]>`
    SELECT e.key AS field, p.sex, p.month, jsonb_agg(e.value -> 'value') AS values
    FROM (
      SELECT r.values, b.sex,
        CASE WHEN date_trunc('month', s."foundFrom") = date_trunc('month', s."foundTo")
          THEN extract(month FROM s."foundFrom")::int END AS month
      FROM "Bird" b
      CROSS JOIN LATERAL (SELECT id, values FROM "BenchRecord" WHERE "birdId" = b.id OFFSET 0) r
      JOIN "SalvageRecord" s ON s.id = b."salvageId"
      WHERE b."collectionId" = ${of.collectionId}::uuid AND b."taxonId" = ${of.taxonId}::uuid
        AND r.id <> ${of.exceptRecordId}::uuid
      ORDER BY b.id DESC LIMIT ${most}
    ) p, jsonb_each(p.values) e
    WHERE e.key = ANY(${[...fields]}) AND e.value ? 'value'
    GROUP BY e.key, p.sex, p.month`;
}

/** Measures of a taxon in the reference table that was loaded last and knows it. */
export async function findReference(tx: Tx, collectionId: string, scientificName: string) {
  const table = await tx.referenceTable.findFirst({
    where: { collectionId, measures: { some: { scientificName } } },
    include: { measures: { where: { scientificName } } },
    orderBy: { loadedAt: 'desc' },
  });
  return table;
}
