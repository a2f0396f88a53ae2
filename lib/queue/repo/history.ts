import 'server-only';
import { db } from '@/lib/platform/db';
import { BACKLOG_STATES } from '../schema';

/** Longer than this, a record was left open overnight and says nothing of the work. */
export const LONGEST_JOB_MINUTES = 720;

export type FinishedJob = { styleId: string; sizeClass: string; minutes: number };

/**
 * The latest finished bench records of people who work alone: bench staff, and those signed off for this style and
 * size. Records left open longer than LONGEST_JOB_MINUTES are not counted.
 */
export const findFinishedJobs = (collectionId: string): Promise<FinishedJob[]> =>
  db().$queryRaw<FinishedJob[]>`
    SELECT r."styleId", b."sizeClass", extract(epoch FROM r."finishedAt" - r."startedAt")::float8 / 60 AS minutes
    FROM "BenchRecord" r JOIN "Bird" b ON b.id = r."birdId"
    WHERE r."collectionId" = ${collectionId}::uuid AND r."finishedAt" > r."startedAt"
      AND r."finishedAt" - r."startedAt" <= make_interval(mins => ${LONGEST_JOB_MINUTES}::int)
      AND (EXISTS (SELECT FROM "PersonSkill" s WHERE s."personId" = r."preparatorId" AND s.level = 'alone'
            AND s."collectionId" = r."collectionId" AND s."styleId" = r."styleId" AND s."sizeClass" = b."sizeClass")
        OR EXISTS (SELECT FROM "Membership" m WHERE m."personId" = r."preparatorId"
            AND m."collectionId" = r."collectionId" AND m.role IN ('preparator', 'curator')))
    ORDER BY r."finishedAt" DESC LIMIT 20000`;

/** Minutes at the bench by person since an instant, from finished records. */
export async function sumBenchMinutes(
  collectionId: string,
  personIds: readonly string[],
  since: Date,
): Promise<Map<string, number>> {
  const rows = await db().$queryRaw<{ personId: string; minutes: number }[]>`
    SELECT "preparatorId" AS "personId", sum(least(${LONGEST_JOB_MINUTES}::float8,
      extract(epoch FROM "finishedAt" - "startedAt")::float8 / 60)) AS minutes
    FROM "BenchRecord"
    WHERE "collectionId" = ${collectionId}::uuid AND "preparatorId" = ANY(${[...personIds]}::uuid[])
      AND "finishedAt" > "startedAt" AND "startedAt" >= ${since}
    GROUP BY 1`;
  return new Map(rows.map(({ personId, minutes }) => [personId, minutes]));
}

/** Birds that are here and not prepared yet. */
export const countBacklog = (collectionId: string): Promise<number> =>
  db().bird.count({
    where: {
      collectionId,
      state: { in: [...BACKLOG_STATES] },
    },
  });

/** Days on which birds came that stayed to be prepared; one entry a bird. */
export async function listIntakeDays(collectionId: string, from: string, until: string): Promise<string[]> {
  const rows = await db().$queryRaw<{ day: string }[]>`
    SELECT s."receivedOn"::text AS day
    FROM "Bird" b JOIN "SalvageRecord" s ON s.id = b."salvageId"
    WHERE b."collectionId" = ${collectionId}::uuid AND b.state NOT IN ('discarded', 'transferred', 'released')
      AND s."receivedOn" BETWEEN ${from}::date AND ${until}::date`;
  return rows.map(({ day }) => day);
}

export type FinishedBird = { day: string; personId: string };

/** Finished preparations between two days of the collection's calendar: the day and whose it was. */
export const listFinished = (
  collectionId: string,
  period: { from: string; until: string; timeZone: string },
): Promise<FinishedBird[]> =>
  db().$queryRaw<FinishedBird[]>`
    SELECT day::text, "personId" FROM (
      SELECT ("finishedAt" AT TIME ZONE ${period.timeZone})::date AS day, "preparatorId" AS "personId"
      FROM "BenchRecord" WHERE "collectionId" = ${collectionId}::uuid AND "finishedAt" IS NOT NULL) finished
    WHERE day BETWEEN ${period.from}::date AND ${period.until}::date ORDER BY day`;

/** The first day on which a bird was received or finished; null in an empty collection. */
export async function findFirstDay(collectionId: string): Promise<string | null> {
  const [row] = await db().$queryRaw<{ day: string | null }[]>`
    SELECT min(s."receivedOn")::text AS day FROM "Bird" b JOIN "SalvageRecord" s ON s.id = b."salvageId"
    WHERE b."collectionId" = ${collectionId}::uuid`;
  return row?.day ?? null;
}
