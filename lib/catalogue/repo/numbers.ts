import 'server-only';
import { db } from '@/lib/platform/db';
import { BACKLOG_STATES, type CarcassState } from '@/lib/queue/schema';
import type { CrossCount } from '../rules/charts';
import type { Stay } from '../rules/numbers';

type Period = { from: string; until: string; timeZone: string };

export async function findTimeZone(collectionId: string): Promise<string> {
  const { timeZone } = await db().collection.findUniqueOrThrow({
    where: { id: collectionId },
    select: { timeZone: true },
  });
  return timeZone;
}

/** Birds that came in, by month and suspected cause. */
export const countIntake = (collectionId: string, { from, until }: Period): Promise<CrossCount<string>[]> =>
  db().$queryRaw<CrossCount<string>[]>`
    SELECT to_char(s."receivedOn", 'YYYY-MM') AS key, s.cause AS series, count(*)::int AS count
    FROM "Bird" b JOIN "SalvageRecord" s ON s.id = b."salvageId"
    WHERE b."collectionId" = ${collectionId}::uuid AND s."receivedOn" BETWEEN ${from}::date AND ${until}::date
    GROUP BY 1, 2`;

/** Preparations finished, by preparator (id) and style. */
export const countPrepared = (
  collectionId: string,
  { from, until, timeZone }: Period,
): Promise<CrossCount<string>[]> =>
  db().$queryRaw<CrossCount<string>[]>`
    SELECT "preparatorId"::text AS key, "styleId" AS series, count(*)::int AS count
    FROM "BenchRecord" WHERE "collectionId" = ${collectionId}::uuid
      AND ("finishedAt" AT TIME ZONE ${timeZone})::date BETWEEN ${from}::date AND ${until}::date
    GROUP BY 1, 2`;

const IN_FREEZER: CarcassState[] = ['in-freezer', 'queued', 'claimed'];

/** Since when each bird in the freezer has lain there; null where that was not written down. */
export async function listFrozenDays(collectionId: string, timeZone: string): Promise<(string | null)[]> {
  const rows = await db().$queryRaw<{ day: string | null }[]>`
    SELECT ("frozenAt" AT TIME ZONE ${timeZone})::date::text AS day FROM "Bird"
    WHERE "collectionId" = ${collectionId}::uuid AND state = ANY(${IN_FREEZER}::text[])`;
  return rows.map(({ day }) => day);
}

/** When birds came and when they were prepared or left, by month; `leftIn` is "unknown" where nobody wrote it down. */
export const countStays = (collectionId: string): Promise<Stay[]> =>
  db().$queryRaw<Stay[]>`
    SELECT to_char(s."receivedOn", 'YYYY-MM') AS "cameIn",
      CASE WHEN b.state = ANY(${[...BACKLOG_STATES]}::text[]) THEN NULL
        ELSE COALESCE(to_char(CASE WHEN b.state = 'prepared' THEN i."preparedOn" ELSE b."disposedOn" END, 'YYYY-MM'),
          'unknown') END AS "leftIn",
      count(*)::int AS count
    FROM "Bird" b JOIN "SalvageRecord" s ON s.id = b."salvageId" LEFT JOIN "CatalogueIndex" i ON i."birdId" = b.id
    WHERE b."collectionId" = ${collectionId}::uuid GROUP BY 1, 2`;
