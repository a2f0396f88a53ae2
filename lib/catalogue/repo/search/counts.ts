import 'server-only';
import { db } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import type { MeasureSummary } from '../../figures-wire';

type Sql = Prisma.Sql;
export type FindCount = {
  by: 'month' | 'year';
  key: number | null;
  series: string;
  count: number;
};

/** Hits by month and cause, and by year and sex; the month or year is null where the find may lie in two. */
export const countFinds = (where: Sql): Promise<FindCount[]> =>
  db().$queryRaw<FindCount[]>`
    WITH hits AS (
      SELECT CASE WHEN date_trunc('month', i."foundFrom") = date_trunc('month', i."foundTo")
          THEN extract(month FROM i."foundFrom")::int END AS month,
        CASE WHEN extract(year FROM i."foundFrom") = extract(year FROM i."foundTo")
          THEN extract(year FROM i."foundFrom")::int END AS year, i.sex, find.cause
      FROM "CatalogueIndex" i JOIN "Bird" bird ON bird.id = i."birdId"
      JOIN "SalvageRecord" find ON find.id = bird."salvageId" WHERE ${where})
    SELECT CASE WHEN GROUPING(cause) = 0 THEN 'month' ELSE 'year' END AS by,
      CASE WHEN GROUPING(cause) = 0 THEN month ELSE year END AS key,
      CASE WHEN GROUPING(cause) = 0 THEN cause ELSE sex END AS series, count(*)::int AS count
    FROM hits GROUP BY GROUPING SETS ((month, cause), (year, sex))`;

/** How many names of birds there are among the hits. */
export async function countTaxa(where: Sql): Promise<number> {
  const [row] = await db().$queryRaw<{ count: number }[]>`
    SELECT count(DISTINCT i."taxonName")::int AS count FROM "CatalogueIndex" i WHERE ${where}`;
  return row?.count ?? 0;
}

/** Quartiles of mass (g), wing, tail and tarsus (mm) by sex, as the bench records have them now. */
export const summariseMeasures = (where: Sql): Promise<MeasureSummary[]> =>
  db().$queryRaw<MeasureSummary[]>`
    WITH taken AS (
      SELECT m.field, i.sex, CASE WHEN jsonb_typeof(m.held) = 'number' THEN (m.held #>> '{}')::float8 END AS value
      FROM "CatalogueIndex" i JOIN "BenchRecord" bench ON bench."birdId" = i."birdId"
      CROSS JOIN LATERAL (VALUES ('massG', bench.values #> '{massG,value}'),
        ('wingMm', bench.values #> '{wingMm,value}'), ('tailMm', bench.values #> '{tailMm,value}'),
        ('tarsusMm', bench.values #> '{tarsusMm,value}')) m(field, held)
      WHERE ${where})
    SELECT field, sex, count(*)::int AS count, min(value) AS least,
      percentile_cont(0.25) WITHIN GROUP (ORDER BY value) AS "lowerQuartile",
      percentile_cont(0.5) WITHIN GROUP (ORDER BY value) AS median,
      percentile_cont(0.75) WITHIN GROUP (ORDER BY value) AS "upperQuartile", max(value) AS most
    FROM taken WHERE value IS NOT NULL GROUP BY field, sex ORDER BY field, sex`;
