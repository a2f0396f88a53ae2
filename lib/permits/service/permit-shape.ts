import 'server-only';
import { dayOf } from '@/lib/platform/clock';
import { type Permit, permit } from '../permit-schema';
import type { PermitFound } from '../repo/permits';
import { type PermitStanding, type PermitText, permitText } from '../wire';

const dayOrNull = (date: Date | null): string | null => (date === null ? null : dayOf(date));

export const textOf = (row: PermitFound): PermitText =>
  permitText.parse({
    expiresOn: dayOrNull(row.expiresOn),
    subPermittees: row.subPermittees,
    clauses: row.clauses,
  });

/**
 * A stored permit as the rules see it. The row holds the text that stands; each amendment keeps the text before it, so
 * an amendment's own clauses are what the next one replaced.
 */
export function toPermit(row: PermitFound): Permit {
  const present = textOf(row);
  const before = row.amendments.map((amendment) => permitText.parse(amendment.before));
  return permit.parse({
    id: row.id,
    number: row.number,
    authority: row.authority,
    kind: row.kind,
    jurisdiction: row.jurisdiction,
    effectiveOn: dayOf(row.effectiveOn),
    expiresOn: present.expiresOn,
    renewsPermitId: row.replacesId,
    holder: { personId: row.holderPersonId, name: row.holder },
    subPermittees: present.subPermittees,
    clauses: (before[0] ?? present).clauses,
    amendments: row.amendments.map((amendment, index) => ({
      effectiveOn: dayOf(amendment.effectiveOn),
      reason: amendment.reason,
      clauses: (before[index + 1] ?? present).clauses,
    })),
  });
}

export function standingOf(
  row: { effectiveOn: Date; expiresOn: Date | null },
  today: string,
): PermitStanding {
  if (dayOf(row.effectiveOn) > today) return 'coming';
  return row.expiresOn !== null && dayOf(row.expiresOn) < today ? 'ended' : 'in-force';
}
