import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { BorrowerRequest } from '../schema';

export type FoundBorrower = {
  id: string;
  institution: string;
  contact: string;
  email: string | null;
  address: string | null;
  country: string;
  loans: number;
  open: number;
  lost: number;
};

/** Borrowers with their history in figures; one of them when an id is given. */
export function findBorrowers(
  tx: Tx,
  collectionId: string,
  id: string | null = null,
): Promise<FoundBorrower[]> {
  return tx.$queryRaw<FoundBorrower[]>`
    SELECT b.id, b.institution, b.contact, b.email, b.address, b.country, count(DISTINCT l.id)::int AS loans,
      count(DISTINCT l.id) FILTER (WHERE l.state NOT IN ('closed', 'declined'))::int AS open,
      count(n.id) FILTER (WHERE n.outcome = 'lost')::int AS lost
    FROM "Borrower" b LEFT JOIN "Loan" l ON l."borrowerId" = b.id LEFT JOIN "LoanLine" n ON n."loanId" = l.id
    WHERE b."collectionId" = ${collectionId}::uuid AND (${id}::uuid IS NULL OR b.id = ${id}::uuid)
    GROUP BY b.id ORDER BY lower(b.institution), b.id LIMIT 500`;
}

export const insertBorrower = (tx: Tx, collectionId: string, request: BorrowerRequest) =>
  tx.borrower.create({
    data: { ...request, collectionId, email: request.email ?? null, address: request.address ?? null },
  });

export async function findNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
