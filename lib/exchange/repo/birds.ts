import 'server-only';
import { findPublicPictures, type PublicPicture } from '@/lib/attachments/public';
import type { Tx } from '@/lib/platform/db';
import type * as rows from '@/lib/platform/generated/prisma/client';
import { Prisma } from '@/lib/platform/generated/prisma/client';

const BATCH = 500;
/** Smaller than every id: the first batch starts in the index like the others. */
const BEFORE_ALL = '00000000-0000-0000-0000-000000000000';

export type BirdScope = { collectionId: string; approvedOnly: boolean; since: Date | null };

type KnownTaxon = Pick<
  rows.Taxon,
  'scientificName' | 'authorship' | 'rank' | 'orderName' | 'familyName' | 'commonName' | 'sensitive'
>;

export type FullMaterial = Pick<
  rows.Material,
  'id' | 'parentId' | 'kind' | 'suffix' | 'custody' | 'description'
> & {
  createdAt: Date;
  vial: Pick<
    rows.Vial,
    | 'code'
    | 'tissues'
    | 'container'
    | 'amount'
    | 'amountLeft'
    | 'amountUnit'
    | 'thawCount'
    | 'qualityClass'
    | 'qualityReason'
    | 'preservation'
    | 'sampledAt'
    | 'frozenAt'
  > | null;
  placement: { unit: Pick<rows.StorageUnit, 'targetTempC'> } | null;
  loanLines: (Pick<rows.LoanLine, 'sentAt' | 'outcome' | 'outcomeAt'> & {
    loan: Pick<rows.Loan, 'number' | 'conditions' | 'dueOn'> & {
      borrower: Pick<rows.Borrower, 'institution'>;
    };
  })[];
};

/** Of a bird and all that belongs to it, what an export says. */
export type FullBird = Pick<rows.Bird, 'id' | 'number' | 'state' | 'sex' | 'createdAt'> & {
  taxon: KnownTaxon | null;
  salvage: Pick<
    rows.SalvageRecord,
    | 'id'
    | 'verbatimTaxon'
    | 'foundFrom'
    | 'foundTo'
    | 'verbatimDate'
    | 'country'
    | 'stateProvince'
    | 'county'
    | 'locality'
    | 'latitude'
    | 'longitude'
    | 'uncertaintyM'
    | 'verbatimCoordinates'
    | 'cause'
  > & {
    permit: Pick<rows.Permit, 'kind' | 'authority' | 'number'> | null;
    accession: Pick<rows.Accession, 'number'> | null;
  };
  bench: Pick<
    rows.BenchRecord,
    'prepNumber' | 'styleId' | 'preparatorId' | 'scribeId' | 'startedAt' | 'finishedAt' | 'values'
  > | null;
  catalogue: Pick<rows.CatalogueEntry, 'number'> | null;
  determinations: Pick<
    rows.Determination,
    'id' | 'taxonId' | 'verbatim' | 'qualifier' | 'determinedBy' | 'determinedOn' | 'remarks' | 'current'
  >[];
  materials: FullMaterial[];
  /** When the last event of its story was written. */
  changedAt: Date | null;
};

/** What a batch of birds needs beside their own rows. */
export type BirdBatch = {
  birds: FullBird[];
  people: ReadonlyMap<string, string>;
  taxa: ReadonlyMap<string, KnownTaxon>;
  /** Public pictures by bird. */
  pictures: ReadonlyMap<string, PublicPicture[]>;
};

const scopeOf = ({ collectionId, approvedOnly }: BirdScope): Prisma.BirdWhereInput => ({
  collectionId,
  catalogue: approvedOnly ? { isNot: null } : undefined,
});

/**
 * Birds in the order of their ids, a batch at a time, so that memory does not grow with their number. While one batch
 * is used the database already gathers the next.
 */
export async function* readBirds(tx: Tx, scope: BirdScope): AsyncGenerator<BirdBatch> {
  const people = new Map<string, string>();
  const taxa = new Map<string, KnownTaxon>();
  const read = (after: string | null) => {
    const batch = findBatch(tx, scope, after);
    // Whoever stops early never asks for it.
    batch.catch(() => undefined);
    return batch;
  };
  let next = read(null);
  for (;;) {
    const birds = await next;
    const last = birds.at(-1);
    if (last === undefined) return;
    next = birds.length < BATCH ? Promise.resolve([]) : read(last.id);
    await namePreparators(tx, birds, people);
    await findDeterminedTaxa(tx, birds, taxa);
    yield { birds, people, taxa, pictures: await groupPictures(tx, scope, birds) };
  }
}

const INSTANTS = new Set([
  'createdAt',
  'changedAt',
  'foundFrom',
  'foundTo',
  'startedAt',
  'finishedAt',
  'determinedOn',
  'sampledAt',
  'frozenAt',
  'sentAt',
  'dueOn',
  'outcomeAt',
]);

/** Days and instants as the client of the database would give them; what the bench wrote stays as it is. */
function reviveDates(value: unknown): void {
  if (typeof value !== 'object' || value === null) return;
  const holder = value as Record<string, unknown>;
  for (const key of Object.keys(holder)) {
    const held = holder[key];
    if (typeof held === 'string') {
      if (INSTANTS.has(key)) holder[key] = new Date(held);
    } else if (key !== 'values') reviveDates(held);
  }
}

async function findBatch(tx: Tx, scope: BirdScope, after: string | null): Promise<FullBird[]> {
  const found = await tx.$queryRaw<{ bird: string }[]>(selectBirds(scope, after, BATCH));
  return found.map(({ bird }) => {
    const read = JSON.parse(bird) as FullBird;
    reviveDates(read);
    return read;
  });
}

/** Everything of many birds in one question, a JSON text a bird: a million of them would not wait for more. */
export function selectBirds(scope: BirdScope, after: string | null, most: number | null): Prisma.Sql {
  // A question of its own a bird: as a join the database reads its way through all entries before those of the batch.
  const approved = scope.approvedOnly
    ? Prisma.sql`AND (SELECT true FROM "CatalogueEntry" c WHERE c."birdId" = b.id)`
    : Prisma.empty;
  return Prisma.sql`
    WITH batch AS MATERIALIZED (
      SELECT b.id, b.number, b.state, b.sex, b."createdAt", b."salvageId", b."taxonId", e.at AS "changedAt"
      FROM "Bird" b
      CROSS JOIN LATERAL (SELECT max(v.at) AS at FROM "AuditEvent" v WHERE v."birdId" = b.id) e
      WHERE b."collectionId" = ${scope.collectionId}::uuid AND b.id > ${after ?? BEFORE_ALL}::uuid ${approved}
        AND (${scope.since}::timestamptz IS NULL OR coalesce(e.at, b."createdAt") >= ${scope.since}::timestamptz)
      ORDER BY b.id LIMIT ${most}::int)
    SELECT json_build_object('id', b.id, 'number', b.number, 'state', b.state, 'sex', b.sex, 'createdAt', b."createdAt",
      'changedAt', b."changedAt",
      'taxon', CASE WHEN t.id IS NOT NULL THEN json_build_object('scientificName', t."scientificName",
        'authorship', t.authorship, 'rank', t.rank, 'orderName', t."orderName", 'familyName', t."familyName",
        'commonName', t."commonName", 'sensitive', t.sensitive) END,
      'salvage', json_build_object('id', s.id, 'verbatimTaxon', s."verbatimTaxon", 'foundFrom', s."foundFrom",
        'foundTo', s."foundTo", 'verbatimDate', s."verbatimDate", 'country', s.country,
        'stateProvince', s."stateProvince", 'county', s.county, 'locality', s.locality, 'latitude', s.latitude,
        'longitude', s.longitude, 'uncertaintyM', s."uncertaintyM", 'verbatimCoordinates', s."verbatimCoordinates",
        'cause', s.cause,
        'permit', CASE WHEN p.id IS NOT NULL THEN
          json_build_object('kind', p.kind, 'authority', p.authority, 'number', p.number) END,
        'accession', CASE WHEN a.id IS NOT NULL THEN json_build_object('number', a.number) END),
      'bench', CASE WHEN r.id IS NOT NULL THEN json_build_object('prepNumber', r."prepNumber", 'styleId', r."styleId",
        'preparatorId', r."preparatorId", 'scribeId', r."scribeId", 'startedAt', r."startedAt",
        'finishedAt', r."finishedAt", 'values', r.values) END,
      'catalogue', CASE WHEN c.id IS NOT NULL THEN json_build_object('number', c.number) END,
      'determinations', coalesce(d.all, '[]'::json), 'materials', coalesce(m.all, '[]'::json))::text AS bird
    FROM batch b
    JOIN "SalvageRecord" s ON s.id = b."salvageId"
    LEFT JOIN "CatalogueEntry" c ON c."birdId" = b.id
    LEFT JOIN "BenchRecord" r ON r."birdId" = b.id
    LEFT JOIN "Taxon" t ON t.id = b."taxonId"
    LEFT JOIN "Permit" p ON p.id = s."permitId"
    LEFT JOIN "Accession" a ON a.id = s."accessionId"
    CROSS JOIN LATERAL (SELECT json_agg(json_build_object('id', n.id, 'taxonId', n."taxonId", 'verbatim', n.verbatim,
        'qualifier', n.qualifier, 'determinedBy', n."determinedBy", 'determinedOn', n."determinedOn",
        'remarks', n.remarks, 'current', n.current) ORDER BY n."recordedAt") AS all
      FROM "Determination" n WHERE n."birdId" = b.id) d
    CROSS JOIN LATERAL (SELECT json_agg(json_build_object('id', k.id, 'parentId', k."parentId", 'kind', k.kind,
        'suffix', k.suffix, 'custody', k.custody, 'description', k.description, 'createdAt', k."createdAt",
        'vial', CASE WHEN v.code IS NOT NULL THEN json_build_object('code', v.code, 'tissues', v.tissues,
          'container', v.container, 'amount', v.amount, 'thawCount', v."thawCount", 'amountLeft', v."amountLeft",
          'amountUnit', v."amountUnit", 'qualityClass', v."qualityClass", 'qualityReason', v."qualityReason",
          'preservation', v.preservation, 'sampledAt', v."sampledAt", 'frozenAt', v."frozenAt") END,
        'placement', CASE WHEN u.id IS NOT NULL THEN
          json_build_object('unit', json_build_object('targetTempC', u."targetTempC")) END,
        'loanLines', coalesce((SELECT json_agg(json_build_object('sentAt', l."sentAt", 'outcome', l.outcome,
            'outcomeAt', l."outcomeAt",
            'loan', json_build_object('number', o.number, 'conditions', o.conditions, 'dueOn', o."dueOn",
              'borrower', json_build_object('institution', w.institution))) ORDER BY l."sentAt", l.id)
          FROM "LoanLine" l JOIN "Loan" o ON o.id = l."loanId" JOIN "Borrower" w ON w.id = o."borrowerId"
          WHERE l."materialId" = k.id AND l."sentAt" IS NOT NULL), '[]'::json)) ORDER BY k.suffix) AS all
      FROM "Material" k LEFT JOIN "Vial" v ON v."materialId" = k.id
      LEFT JOIN "Placement" g ON g."materialId" = k.id LEFT JOIN "StorageUnit" u ON u.id = g."unitId"
      WHERE k."birdId" = b.id) m
    ORDER BY b.id`;
}

async function groupPictures(tx: Tx, { collectionId }: BirdScope, birds: readonly FullBird[]) {
  const ids = birds.filter((bird) => bird.catalogue !== null).map((bird) => bird.id);
  const groups = new Map<string, PublicPicture[]>();
  for (const picture of await findPublicPictures(tx, collectionId, ids)) {
    const group = groups.get(picture.birdId);
    if (group === undefined) groups.set(picture.birdId, [picture]);
    else group.push(picture);
  }
  return groups;
}

async function namePreparators(
  tx: Tx,
  birds: readonly FullBird[],
  known: Map<string, string>,
): Promise<void> {
  const ids = new Set(birds.flatMap((bird) => [bird.bench?.preparatorId, bird.bench?.scribeId]));
  const unknown = [...ids].filter((id): id is string => typeof id === 'string' && !known.has(id));
  if (unknown.length === 0) return;
  const people = await tx.person.findMany({
    where: { id: { in: unknown } },
    select: { id: true, name: true },
  });
  for (const { id, name } of people) known.set(id, name);
}

async function findDeterminedTaxa(
  tx: Tx,
  birds: readonly FullBird[],
  known: Map<string, KnownTaxon>,
): Promise<void> {
  const ids = new Set(birds.flatMap((bird) => bird.determinations.flatMap((one) => one.taxonId ?? [])));
  const unknown = [...ids].filter((id) => !known.has(id));
  if (unknown.length === 0) return;
  const taxa = await tx.taxon.findMany({ where: { id: { in: unknown } } });
  for (const taxon of taxa) known.set(taxon.id, taxon);
}

export const countBirds = (tx: Tx, scope: BirdScope) => tx.bird.count({ where: scopeOf(scope) });

export const countSensitive = (tx: Tx, scope: BirdScope) =>
  tx.bird.count({ where: { ...scopeOf(scope), taxon: { sensitive: true } } });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

/** Days and rectangle of the finds; null when there are none. */
export async function measureCoverage(tx: Tx, scope: BirdScope) {
  const { _min, _max } = await tx.salvageRecord.aggregate({
    where: { collectionId: scope.collectionId, bird: scopeOf(scope) },
    _min: { foundFrom: true, latitude: true, longitude: true },
    _max: { foundTo: true, latitude: true, longitude: true },
  });
  return { least: _min, most: _max };
}
