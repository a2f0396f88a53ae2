import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, readCursor } from '@/lib/platform/paging';

const withProcess = {
  bird: {
    include: {
      taxon: true,
      catalogue: true,
      salvage: { select: { verbatimTaxon: true } },
      bench: { select: { preparatorId: true, scribeId: true } },
    },
  },
  placement: { include: { unit: true } },
  // The latest step: the open one, if one is open.
  steps: { orderBy: [{ startedAt: 'desc' }, { id: 'desc' }], take: 1 },
} satisfies Prisma.MaterialInclude;

export type ProcessMaterial = Prisma.MaterialGetPayload<{ include: typeof withProcess }>;

/** Which materials are followed, and how one counts that has begun no step yet. */
export type ProcessScope = {
  collectionId: string;
  timeZone: string;
  today: string;
  kinds: readonly string[];
  /** State of a material that has none written yet. */
  firstState: string;
  /** Longest expected days of that state. */
  firstDays: number;
};

/** When the present stay is up: the open step's due time, or counted from when the material was made. */
const dueAt = (scope: ProcessScope) =>
  Prisma.sql`COALESCE(s."dueAt", s."startedAt", m."createdAt" + make_interval(days => ${Math.ceil(scope.firstDays)}::int))`;

/** When it was shelved, or made where nobody wrote that down. */
const shelvedAt = Prisma.sql`COALESCE((SELECT max(e."endedAt") FROM "ProcessStep" e WHERE e."materialId" = m.id), m."createdAt")`;

const from = (scope: ProcessScope, q: string | undefined) => Prisma.sql`
  FROM "Material" m
  JOIN "Bird" b ON b.id = m."birdId"
  LEFT JOIN "ProcessStep" s ON s."materialId" = m.id AND s."endedAt" IS NULL
  LEFT JOIN "Taxon" t ON t.id = b."taxonId"
  LEFT JOIN "CatalogueEntry" c ON c."birdId" = b.id
  WHERE m."collectionId" = ${scope.collectionId}::uuid AND m.kind = ANY(${[...scope.kinds]})
    AND m.custody IN ('on-shelf', 'on-loan')
    ${
      q === undefined
        ? Prisma.empty
        : Prisma.sql`AND (b.number ILIKE ${likeText(q)} OR c.number ILIKE ${likeText(q)}
            OR t."scientificName" ILIKE ${likeText(q)} OR t."commonName" ILIKE ${likeText(q)})`
    }`;

const likeText = (q: string): string => `%${q.replace(/[\\%_]/g, '\\$&')}%`;

/** How many are in each state, and how many of them are past their due day. */
export async function countByState(
  scope: ProcessScope,
  q: string | undefined,
): Promise<{ state: string; total: number; overdue: number }[]> {
  const rows = await db().$queryRaw<{ state: string; total: bigint; overdue: bigint }[]>`
    SELECT COALESCE(m.state, ${scope.firstState}) AS state, count(*) AS total,
      count(*) FILTER (WHERE (${dueAt(scope)} AT TIME ZONE ${scope.timeZone})::date < ${scope.today}::date
        AND COALESCE(m.state, ${scope.firstState}) <> 'shelved') AS overdue
    ${from(scope, q)} GROUP BY 1`;
  return rows.map((row) => ({ ...row, total: Number(row.total), overdue: Number(row.overdue) }));
}

/** One more material of a state than the page holds: what is due first comes first, on the shelf the latest. */
export async function findInState(
  scope: ProcessScope,
  page: { state: string; q?: string; size: number; after?: string },
): Promise<(ProcessMaterial & { sortAt: Date })[]> {
  const shelved = page.state === 'shelved';
  const sortAt = shelved ? shelvedAt : dueAt(scope);
  const last =
    page.after === undefined ? undefined : readCursor(page.after, z.tuple([cursorInstant, z.uuid()]));
  const beyond =
    last === undefined
      ? Prisma.empty
      : shelved
        ? Prisma.sql`AND (${sortAt}, m.id) < (${last[0]}::timestamptz, ${last[1]}::uuid)`
        : Prisma.sql`AND (${sortAt}, m.id) > (${last[0]}::timestamptz, ${last[1]}::uuid)`;
  const order = shelved ? Prisma.sql`"sortAt" DESC, m.id DESC` : Prisma.sql`"sortAt" ASC, m.id ASC`;
  const found = await db().$queryRaw<{ id: string; sortAt: Date }[]>`
    SELECT m.id, ${sortAt} AS "sortAt" ${from(scope, page.q)}
      AND COALESCE(m.state, ${scope.firstState}) = ${page.state} ${beyond}
    ORDER BY ${order} LIMIT ${page.size + 1}`;
  const materials = await db().material.findMany({
    where: { id: { in: found.map(({ id }) => id) } },
    include: withProcess,
  });
  const byId = new Map(materials.map((material) => [material.id, material]));
  return found.flatMap(({ id, sortAt: at }) => {
    const material = byId.get(id);
    return material === undefined ? [] : [{ ...material, sortAt: at }];
  });
}

/** Locks materials in one order, so that two people cannot move one on together, and loads them. */
export async function lockMaterials(
  tx: Tx,
  collectionId: string,
  ids: readonly string[],
  kinds: readonly string[],
): Promise<ProcessMaterial[]> {
  await tx.$queryRaw`SELECT id FROM "Material" WHERE id = ANY(${[...ids]}::uuid[])
    AND "collectionId" = ${collectionId}::uuid ORDER BY id FOR UPDATE`;
  return tx.material.findMany({
    where: { id: { in: [...ids] }, collectionId, kind: { in: [...kinds] } },
    include: withProcess,
    orderBy: { id: 'asc' },
  });
}

/** Ends a step if it is still open; 0 when it is not. */
export async function endStep(tx: Tx, id: string, endedAt: Date): Promise<number> {
  const { count } = await tx.processStep.updateMany({ where: { id, endedAt: null }, data: { endedAt } });
  return count;
}

export const insertStep = (tx: Tx, data: Prisma.ProcessStepUncheckedCreateInput) =>
  tx.processStep.create({ data });

/** The freezer runs of a material: its steps against pests, ended or not. */
export const findFreezing = (tx: Tx, materialId: string) =>
  tx.processStep.findMany({
    where: { materialId, state: 'pest-freeze' },
    orderBy: { startedAt: 'asc' },
    select: { startedAt: true, endedAt: true, temperatureC: true },
  });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

export async function findNames(
  tx: Tx,
  ids: readonly (string | null | undefined)[],
): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => typeof id === 'string'))];
  if (wanted.length === 0) return new Map();
  const people = await tx.person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
