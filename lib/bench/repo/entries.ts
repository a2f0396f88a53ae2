import 'server-only';
import type { FieldId } from '@/lib/bench/fields';
import type { Tx } from '@/lib/platform/db';

/** What a delivery has to know: every entry of the fields it names, and those that arrived under one of its keys. */
export const findTouched = (
  tx: Tx,
  recordId: string,
  { fields, keys }: { fields: readonly FieldId[]; keys: readonly string[] },
) =>
  tx.benchEntry.findMany({
    where: { recordId, OR: [{ field: { in: [...fields] } }, { clientKey: { in: [...keys] } }] },
  });

/** Everything that was ever written, in the order of arrival; of one field when it is named. */
export const findEntries = (tx: Tx, recordId: string, field?: FieldId) =>
  tx.benchEntry.findMany({ where: { recordId, field }, orderBy: { seq: 'asc' } });

/** How many earlier entries each field has. */
export async function countEarlier(tx: Tx, recordId: string): Promise<Map<string, number>> {
  const rows = await tx.benchEntry.groupBy({
    by: ['field'],
    where: { recordId, supersededAt: { not: null } },
    _count: true,
  });
  return new Map(rows.map(({ field, _count }) => [field, _count]));
}

export interface EntryRow {
  field: FieldId;
  /** Null: the value was taken away. */
  value: unknown;
  unit: string | null;
  verbatim: string | null;
  method: string | null;
  enteredAt: Date;
  enteredById: string;
  clientKey: string | null;
  /** False: it was superseded before it arrived, or by a later one of the same delivery. */
  current: boolean;
  outranked: boolean;
  undoesId: string | null;
}

/**
 * Appends entries, in their order; where one of them holds now, the entry that held before is marked as superseded, and
 * that first: the new one waits for the count.
 */
export async function appendEntries(
  tx: Tx,
  recordId: string,
  entries: readonly EntryRow[],
  at: Date,
): Promise<void> {
  const superseding = entries.filter(({ current }) => current).map(({ field }) => field);
  await tx.$executeRaw`
    WITH superseded AS (
      UPDATE "BenchEntry" SET "supersededAt" = ${at}::timestamptz
      WHERE "recordId" = ${recordId}::uuid AND field = ANY(${superseding}) AND "supersededAt" IS NULL RETURNING id
    ), marked AS (SELECT count(*) FROM superseded)
    INSERT INTO "BenchEntry" (id, "recordId", field, value, unit, verbatim, method, "enteredAt", "enteredById",
      "clientKey", "supersededAt", outranked, "undoesId")
    SELECT uuidv7(), ${recordId}::uuid, e.field, coalesce(e.value, 'null'), e.unit, e.verbatim, e.method,
      e."enteredAt", e."enteredById", e."clientKey", CASE WHEN NOT e.current THEN ${at}::timestamptz END,
      e.outranked, e."undoesId"
    FROM marked, ROWS FROM (jsonb_to_recordset(${JSON.stringify(entries)}::jsonb) AS (field text, value jsonb,
      unit text, verbatim text, method text, "enteredAt" timestamptz, "enteredById" uuid, "clientKey" text,
      current boolean, outranked boolean, "undoesId" uuid)) WITH ORDINALITY AS e
    ORDER BY e.ordinality`;
}
