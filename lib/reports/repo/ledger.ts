import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

type LoanLineRow = {
  id: string;
  sentAt: Date;
  outcome: string | null;
  outcomeAt: Date | null;
  borrower: string;
};

type MaterialRow = {
  kind: string;
  custody: string;
  state: string | null;
  createdAt: Date;
  loanLines: LoanLineRow[];
};

type DeterminationRow = {
  id: string;
  taxonId: string | null;
  verbatim: string;
  determinedOn: Date;
  recordedAt: Date;
};

/** A bird that a permit counts, with all that happened to it. `bird` is null until triage has accepted it. */
export type CountedBird = {
  id: string;
  number: string;
  specimenType: string;
  quantity: number;
  verbatimTaxon: string;
  taxon: string | null;
  foundFrom: Date;
  foundTo: Date;
  country: string;
  stateProvince: string;
  county: string;
  cause: string;
  bandNumber: string | null;
  bandReportedOn: Date | null;
  finderId: string | null;
  loggedById: string | null;
  loggedAt: Date;
  coverageDetail: Prisma.JsonValue;
  coverageRuling: Prisma.JsonValue;
  accession: { kind: string; source: string; agreement: string | null; receivedOn: Date } | null;
  bird: {
    frozenAt: Date | null;
    disposition: string | null;
    disposedOn: Date | null;
    dispositionDetail: Prisma.JsonValue;
    bench: { startedAt: Date; finishedAt: Date | null } | null;
    catalogue: { number: string; approvedAt: Date } | null;
    determinations: DeterminationRow[];
    materials: MaterialRow[];
  } | null;
};

const INSTANTS: ReadonlySet<string> = new Set([
  'foundFrom',
  'foundTo',
  'bandReportedOn',
  'loggedAt',
  'receivedOn',
  'frozenAt',
  'disposedOn',
  'startedAt',
  'finishedAt',
  'approvedAt',
  'determinedOn',
  'recordedAt',
  'createdAt',
  'sentAt',
  'outcomeAt',
]);

/** Free JSON columns, whose own keys mean nothing here. */
const AS_STORED: ReadonlySet<string> = new Set(['coverageDetail', 'coverageRuling', 'dispositionDetail']);

/** Turns the named columns of a row, and of the rows within it, into dates in place. */
function readInstants(row: Record<string, unknown>): void {
  for (const [name, value] of Object.entries(row)) {
    if (value === null || AS_STORED.has(name)) continue;
    if (INSTANTS.has(name)) row[name] = new Date(value as string);
    else if (Array.isArray(value)) for (const one of value) readInstants(one);
    else if (typeof value === 'object') readInstants(value as Record<string, unknown>);
  }
}

/**
 * Every bird that a permit counts and that was found by the closing day. One statement builds each bird's rows as JSON:
 * a year of ten thousand birds is read in a third of the time that the rows one by one take.
 */
export async function findCountedBirds(
  tx: Tx,
  collectionId: string,
  permitId: string,
  untilOn: string,
): Promise<CountedBird[]> {
  const rows = await tx.$queryRaw<{ row: string }[]>`
    SELECT json_build_object(
      'id', s.id, 'number', s.number, 'specimenType', s."specimenType", 'quantity', s.quantity,
      'verbatimTaxon', s."verbatimTaxon", 'taxon', t."scientificName",
      'foundFrom', s."foundFrom", 'foundTo', s."foundTo", 'country', s.country,
      'stateProvince', s."stateProvince", 'county', s.county, 'cause', s.cause,
      'bandNumber', s."bandNumber", 'bandReportedOn', s."bandReportedOn", 'finderId', s."finderId",
      'loggedById', s."loggedById", 'loggedAt', s."loggedAt",
      'coverageDetail', s."coverageDetail", 'coverageRuling', s."coverageRuling",
      'accession', CASE WHEN a.id IS NOT NULL THEN json_build_object(
        'kind', a.kind, 'source', a.source, 'agreement', a.agreement, 'receivedOn', a."receivedOn") END,
      'bird', CASE WHEN b.id IS NOT NULL THEN json_build_object(
        'frozenAt', b."frozenAt", 'disposition', b.disposition, 'disposedOn', b."disposedOn",
        'dispositionDetail', b."dispositionDetail",
        'bench', CASE WHEN r.id IS NOT NULL THEN
          json_build_object('startedAt', r."startedAt", 'finishedAt', r."finishedAt") END,
        'catalogue', CASE WHEN c.id IS NOT NULL THEN
          json_build_object('number', c.number, 'approvedAt', c."approvedAt") END,
        'determinations', COALESCE((
          SELECT json_agg(json_build_object('id', d.id, 'taxonId', d."taxonId", 'verbatim', d.verbatim,
            'determinedOn', d."determinedOn", 'recordedAt', d."recordedAt") ORDER BY d."recordedAt")
          FROM "Determination" d WHERE d."birdId" = b.id), '[]'),
        'materials', COALESCE((
          SELECT json_agg(json_build_object('kind', m.kind, 'custody', m.custody, 'state', m.state,
            'createdAt', m."createdAt", 'loanLines', COALESCE((
              SELECT json_agg(json_build_object('id', l.id, 'sentAt', l."sentAt", 'outcome', l.outcome,
                'outcomeAt', l."outcomeAt", 'borrower', w.institution))
              FROM "LoanLine" l JOIN "Loan" o ON o.id = l."loanId" JOIN "Borrower" w ON w.id = o."borrowerId"
              WHERE l."materialId" = m.id AND l."sentAt" IS NOT NULL), '[]')) ORDER BY m.id)
          FROM "Material" m WHERE m."birdId" = b.id), '[]')) END)::text AS row
    FROM "SalvageRecord" s
      LEFT JOIN "Taxon" t ON t.id = s."taxonId"
      LEFT JOIN "Accession" a ON a.id = s."accessionId"
      LEFT JOIN "Bird" b ON b."salvageId" = s.id
      LEFT JOIN "BenchRecord" r ON r."birdId" = b.id
      LEFT JOIN "CatalogueEntry" c ON c."birdId" = b.id
    WHERE s."collectionId" = ${collectionId}::uuid AND s."permitId" = ${permitId}::uuid
      AND s.state <> 'declined' AND s."foundTo" <= ${untilOn}::date
    ORDER BY s.number`;
  return rows.map(({ row }) => {
    const bird = JSON.parse(row);
    readInstants(bird);
    return bird as CountedBird;
  });
}

export async function findTaxonNames(tx: Tx, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const taxa = await tx.taxon.findMany({
    where: { id: { in: [...new Set(ids.filter((id) => id !== null))] } },
    select: { id: true, scientificName: true },
  });
  return new Map(taxa.map(({ id, scientificName }) => [id, scientificName]));
}

/** Names of the finders on file of these salvage records; erased ones are left out. */
export async function findFinderNames(
  tx: Tx,
  collectionId: string,
  salvageIds: readonly string[],
): Promise<Map<string, string>> {
  const rows = await tx.$queryRaw<{ id: string; name: string }[]>`
    SELECT s.id, f.name FROM "SalvageRecord" s JOIN "Finder" f ON f.id = s."finderId"
    WHERE s."collectionId" = ${collectionId}::uuid AND s.id = ANY(${[...salvageIds]}::uuid[])
      AND f."erasedAt" IS NULL AND f.name IS NOT NULL`;
  return new Map(rows.map(({ id, name }) => [id, name]));
}

export const findTimeZone = async (tx: Tx, collectionId: string): Promise<string> =>
  (await tx.collection.findUniqueOrThrow({ where: { id: collectionId }, select: { timeZone: true } }))
    .timeZone;
