import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { OWN_DATA, type PersonColumn, SECRET_COLUMNS, STANDING, WORK } from '../kept';
import type { PersonExport } from '../schema';

type Rows = Record<string, Record<string, unknown>[]>;

/** Names of tables and columns come from the lists in kept.ts, never from a request. */
const inCollection = `coalesce(to_jsonb(t)->>'collectionId', $2) = $2`;

async function findRows(
  tx: Tx,
  columns: readonly PersonColumn[],
  collectionId: string,
  personId: string,
): Promise<Rows> {
  const rows: Rows = {};
  for (const { table, holds } of columns) {
    const found = await tx.$queryRawUnsafe<{ row: Record<string, unknown> }[]>(
      `SELECT to_jsonb(t) - $3::text[] AS row FROM "${table}" t WHERE ${holds} = $1::uuid AND ${inCollection}
       ORDER BY to_jsonb(t)->>'createdAt', to_jsonb(t)::text`,
      personId,
      collectionId,
      [...SECRET_COLUMNS],
    );
    if (found.length > 0) rows[table] = found.map(({ row }) => row);
  }
  return rows;
}

export const findOwnData = (tx: Tx, collectionId: string, personId: string) =>
  findRows(tx, OWN_DATA, collectionId, personId);

export const findStanding = (tx: Tx, collectionId: string, personId: string) =>
  findRows(tx, STANDING, collectionId, personId);

/** Where a person stands as the one who did it; columns without them are left out. */
export async function findWorkOf(
  tx: Tx,
  collectionId: string,
  personId: string,
): Promise<PersonExport['work']> {
  const work: PersonExport['work'] = [];
  for (const { table, holds } of WORK) {
    const [found] = await tx.$queryRawUnsafe<{ rows: number; ids: string[] }[]>(
      `SELECT count(*)::int AS rows,
         coalesce(array_agg(to_jsonb(t)->>'id' ORDER BY to_jsonb(t)->>'id') FILTER (WHERE to_jsonb(t) ? 'id'), '{}') AS ids
       FROM "${table}" t WHERE ${holds} = $1::uuid AND ${inCollection}`,
      personId,
      collectionId,
    );
    if (found !== undefined && found.rows > 0)
      work.push({ table, column: holds.replaceAll('"', ''), ...found });
  }
  return work;
}

/** The events of a person's acts in this collection, oldest first. */
export async function findActsOf(
  tx: Tx,
  collectionId: string,
  personId: string,
): Promise<PersonExport['events']> {
  const events = await tx.auditEvent.findMany({
    where: { collectionId, actorId: personId },
    select: { seq: true, at: true, kind: true, subjectType: true, subjectId: true },
    orderBy: { seq: 'asc' },
  });
  return events.map(({ seq, at, ...event }) => ({ ...event, seq: Number(seq), at: at.toISOString() }));
}

/** Takes away what is kept of a person for their own sake, in every collection, and counters with their e-mail. */
export async function dropOwnData(tx: Tx, person: { id: string; email: string }): Promise<void> {
  for (const { table, holds, only } of OWN_DATA)
    await tx.$executeRawUnsafe(
      `DELETE FROM "${table}" WHERE ${holds} = $1::uuid${only === undefined ? '' : ` AND ${only}`}`,
      person.id,
    );
  await tx.$executeRaw`DELETE FROM rate_limit
    WHERE right(key, length(${person.email}) + 1) = ':' || ${person.email.toLowerCase()}
       OR right(key, length(${person.id}) + 1) = ':' || ${person.id}`;
}

/** Leaves of an account its id, and its name where it stands in records. The address is one that can never be (RFC 2606). */
export const eraseAccount = (tx: Tx, id: string, { at, nameStays }: { at: Date; nameStays: boolean }) =>
  tx.person.update({
    where: { id },
    data: {
      email: `erased-${id}@erased.invalid`,
      ...(nameStays ? {} : { name: 'Somebody who left' }),
      passwordDigest: null,
      active: false,
      locale: 'en',
      lastSignInAt: null,
      sessionEpoch: { increment: 1 },
      version: { increment: 1 },
      erasedAt: at,
    },
  });
