import 'server-only';
import { dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { termsOf } from '../book';
import { type FoundReport, findNames } from '../repo/reports';
import type { ReportDifference } from '../rules/differences';
import { periodDueOn } from '../rules/periods';
import type { Difference, ReportRow } from '../wire';

export const permitOf = ({ id, number, authority }: FoundReport['permit']): ReportRow['permit'] => ({
  id,
  number,
  authority,
});

/** Found reports as rows, with the names of those who signed. */
export async function toRows(tx: Tx, found: readonly FoundReport[]): Promise<ReportRow[]> {
  const names = await findNames(
    tx,
    found.map(({ signedById }) => signedById),
  );
  return found.map((row) => {
    const period = { fromOn: dayOf(row.fromOn), untilOn: dayOf(row.toOn) };
    return {
      id: row.id,
      permit: permitOf(row.permit),
      ...period,
      edition: row.edition,
      state: row.state as ReportRow['state'],
      dueOn: periodDueOn(termsOf(row.permit), period),
      signedAt: row.signedAt?.toISOString() ?? null,
      signedBy: row.signedById === null ? null : (names.get(row.signedById) ?? null),
    };
  });
}

/** A difference without what only the ledger needs. */
export function toDifference({ added, removed, changed, rows }: ReportDifference): Difference {
  const named = (lines: ReportDifference['added']) => lines.map(({ number, taxon }) => ({ number, taxon }));
  return {
    added: named(added),
    removed: named(removed),
    changed: changed.map(({ number, changes }) => ({ number, changes })),
    rows,
  };
}
