import 'server-only';
import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { db } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { readCursor } from '@/lib/platform/paging';
import type { SearchSort } from '../../search-wire';

const { sql, raw } = Prisma;
type Sql = Prisma.Sql;

export type FoundRow = {
  birdId: string;
  number: string;
  catalogueNumber: string | null;
  prepNumber: string | null;
  taxonName: string;
  commonName: string | null;
  familyName: string | null;
  sensitive: boolean;
  sex: string;
  age: string | null;
  stage: string;
  styleId: string | null;
  foundFrom: Date;
  foundTo: Date;
  stateProvince: string;
  county: string;
  locality: string;
  preparatorId: string | null;
  preparedOn: Date | null;
  approvedOn: Date | null;
  kinds: string[];
  custodies: string[];
  /** What the row is ordered by, for the cursor. */
  sortKey: string;
};

/** Order by this expression; text, so that one cursor serves every order. */
const SORT: Record<SearchSort, string> = {
  number: 'i.number',
  catalogueNumber: `COALESCE(i."catalogueNumber", '')`,
  taxon: 'i."taxonName"',
  found: 'i."foundFrom"',
  prepared: `COALESCE(i."preparedOn", '0001-01-01')`,
  approved: `COALESCE(i."approvedOn", '0001-01-01')`,
  county: 'i.county',
};
/** A bird without a day sorts as if at the beginning. */
const givenOrNone = z.union([z.literal('0001-01-01'), givenDay()]);
const IS_DATE: ReadonlySet<SearchSort> = new Set(['found', 'prepared', 'approved']);

/** One more row than the page holds. `sort` has a dash before it for downwards. */
export function findRows(
  where: Sql,
  { sort, size, after }: { sort: string; size: number; after?: string },
): Promise<FoundRow[]> {
  const by = sort.replace(/^-/, '') as SearchSort;
  const key = raw(SORT[by]);
  const [order, beyond] = sort.startsWith('-') ? [raw('DESC'), raw('<')] : [raw('ASC'), raw('>')];
  const last =
    after === undefined
      ? undefined
      : readCursor(after, z.tuple([IS_DATE.has(by) ? givenOrNone : z.string(), z.uuid()]));
  const cast = raw(IS_DATE.has(by) ? '::date' : '::text');
  const page =
    last === undefined
      ? Prisma.empty
      : sql` AND (${key}, i."birdId") ${beyond} (${last[0]}${cast}, ${last[1]}::uuid)`;
  return db().$queryRaw<FoundRow[]>`
    SELECT i."birdId", i.number, i."catalogueNumber", i."prepNumber", i."taxonName", i."commonName", i."familyName",
      i.sensitive, i.sex, i.age, i.stage, i."styleId", i."foundFrom", i."foundTo", i."stateProvince", i.county,
      i.locality, i."preparatorId", i."preparedOn", i."approvedOn", i.kinds, i.custodies, (${key})::text AS "sortKey"
    FROM "CatalogueIndex" i WHERE ${where}${page}
    ORDER BY ${key} ${order}, i."birdId" ${order} LIMIT ${size + 1}`;
}

export type FacetCount = { facet: string; value: string | null; count: number };

/**
 * How many hits there are and what they have in common, counted over at most `limit` of them in one pass.
 * @param countyIsOpen whether the counties of sensitive taxa may be counted
 */
export function countFacets(where: Sql, limit: number, countyIsOpen: boolean): Promise<FacetCount[]> {
  const county = countyIsOpen ? sql`county` : sql`CASE WHEN sensitive THEN NULL ELSE county END`;
  return db().$queryRaw<FacetCount[]>`
    WITH hits AS MATERIALIZED (
      SELECT i.stage, i."familyName", i.sex, i.months[1]::text AS month, i.county, i.sensitive,
        i."preparatorId"::text AS preparator, i.kinds
      FROM "CatalogueIndex" i WHERE ${where} LIMIT ${limit}),
    counted AS (
      SELECT CASE WHEN GROUPING(stage) = 0 THEN 'stage' WHEN GROUPING("familyName") = 0 THEN 'family'
          WHEN GROUPING(sex) = 0 THEN 'sex' WHEN GROUPING(month) = 0 THEN 'month'
          WHEN GROUPING(open_county) = 0 THEN 'county' WHEN GROUPING(preparator) = 0 THEN 'preparator'
          ELSE 'total' END AS facet,
        COALESCE(stage, "familyName", sex, month, open_county, preparator) AS value, count(*)::int AS count
      FROM (SELECT *, ${county} AS open_county FROM hits) h
      GROUP BY GROUPING SETS ((stage), ("familyName"), (sex), (month), (open_county), (preparator), ())
      UNION ALL SELECT 'material', kind, count(*)::int FROM hits, unnest(kinds) kind GROUP BY kind)
    SELECT facet, value, count FROM (
      SELECT *, row_number() OVER (PARTITION BY facet ORDER BY count DESC, value) AS place FROM counted
      WHERE facet = 'total' OR value IS NOT NULL) ranked
    WHERE place <= 15`;
}
