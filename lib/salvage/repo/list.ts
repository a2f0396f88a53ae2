import 'server-only';
import { z } from 'zod';
import { dateColumn } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorWhole, readCursor } from '@/lib/platform/paging';
import type { SalvageState } from '../schema';
import type { SalvageListQuery } from '../wire-list';

const WAITING = ['reported', 'in-triage', 'on-hold'];

const rank = Prisma.sql`CASE s.state WHEN 'reported' THEN 0 WHEN 'in-triage' THEN 1 WHEN 'on-hold' THEN 2 ELSE 3 END`;
/** What waits: the longest first. What is settled: the latest first. */
const age = Prisma.sql`CASE WHEN s.state IN ('reported', 'in-triage', 'on-hold') THEN 1 ELSE -1 END
  * round(extract(epoch FROM s."loggedAt") * 1000)::float8`;

const any = (pattern: string) => `%${pattern.replace(/[\\%_]/g, '\\$&')}%`;

function filters(collectionId: string, query: SalvageListQuery, exactPlace: boolean): Prisma.Sql {
  const { state, coverage, county, from, to, hold, permitId, q } = query;
  const parts = [Prisma.sql`s."collectionId" = ${collectionId}::uuid`];
  if (state !== undefined) {
    const states = state === 'waiting' ? WAITING : state.split(',');
    parts.push(Prisma.sql`s.state = ANY(${states})`);
  }
  if (coverage !== undefined) parts.push(Prisma.sql`s.coverage = ${coverage}`);
  if (county !== undefined) parts.push(Prisma.sql`lower(s.county) = lower(${county})`);
  if (from !== undefined) parts.push(Prisma.sql`s."foundTo" >= ${dateColumn(from)}::date`);
  if (to !== undefined) parts.push(Prisma.sql`s."foundFrom" <= ${dateColumn(to)}::date`);
  if (permitId !== undefined) parts.push(Prisma.sql`s."permitId" = ${permitId}::uuid`);
  if (hold !== undefined) {
    parts.push(Prisma.sql`EXISTS (SELECT 1 FROM "Hold" h WHERE h."salvageId" = s.id AND h."liftedAt" IS NULL
      AND (${hold} = 'any' OR h.kind = ${hold}))`);
  }
  if (q !== undefined && q !== '') {
    const like = any(q);
    // The wording of a place may give away a sensitive taxon's exact place.
    const byPlace = exactPlace ? Prisma.sql`OR s.locality ILIKE ${like}` : Prisma.empty;
    parts.push(Prisma.sql`(s.number ILIKE ${like} OR s."verbatimTaxon" ILIKE ${like} OR t."scientificName" ILIKE ${like}
      OR t."commonName" ILIKE ${like} OR s.county ILIKE ${like} OR s."bandNumber" ILIKE ${like}
      OR upper(s."receiptCode") = upper(${q}) ${byPlace})`);
  }
  return Prisma.join(parts, ' AND ');
}

export type ListKey = { id: string; rank: number; age: number };

/** Ids of one more record than the page holds: triage first, then what is settled. */
export function findPageKeys(
  collectionId: string,
  query: SalvageListQuery,
  exactPlace: boolean,
): Promise<ListKey[]> {
  const last =
    query.after === undefined
      ? undefined
      : readCursor(query.after, z.tuple([cursorWhole, z.number(), z.uuid()]));
  const beyond =
    last === undefined
      ? Prisma.empty
      : Prisma.sql`AND (${rank}, ${age}, s.id) > (${last[0]}::int, ${last[1]}::float8, ${last[2]}::uuid)`;
  return db().$queryRaw<ListKey[]>`
    SELECT s.id, ${rank} AS rank, ${age} AS age
    FROM "SalvageRecord" s LEFT JOIN "Taxon" t ON t.id = s."taxonId"
    WHERE ${filters(collectionId, query, exactPlace)} ${beyond}
    ORDER BY 2, 3, s.id LIMIT ${query.size + 1}`;
}

/** The rows of a page, in no order. */
export const findPageRows = (ids: readonly string[]) =>
  db().salvageRecord.findMany({
    where: { id: { in: [...ids] } },
    include: {
      taxon: true,
      bird: { select: { id: true, taxon: true } },
      holds: { where: { liftedAt: null }, select: { kind: true }, orderBy: { kind: 'asc' } },
    },
  });
export type PageRow = Awaited<ReturnType<typeof findPageRows>>[number];

/** How many records stand in each state, under every other filter of the list. */
export async function countByState(
  collectionId: string,
  query: SalvageListQuery,
  exactPlace: boolean,
): Promise<Partial<Record<SalvageState, number>>> {
  const rows = await db().$queryRaw<{ state: SalvageState; count: bigint }[]>`
    SELECT s.state, count(*) AS count FROM "SalvageRecord" s LEFT JOIN "Taxon" t ON t.id = s."taxonId"
    WHERE ${filters(collectionId, { ...query, state: undefined }, exactPlace)} GROUP BY s.state`;
  return Object.fromEntries(rows.map(({ state, count }) => [state, Number(count)]));
}
