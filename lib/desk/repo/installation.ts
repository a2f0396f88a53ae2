import 'server-only';
import { db } from '@/lib/platform/db';
import { rowsOf, SHOWN, totalOf } from './piles';

type GivenUp = { id: string; name: string; switchedOffAt: Date; reason: string | null; total: number };

/** Addresses that Furcula itself switched off, with why; those that a person switched off stay out. */
export async function findGivenUpWebhooks(collectionId: string): Promise<GivenUp[]> {
  return db().$queryRaw<GivenUp[]>`
    SELECT w.id, w.name, w."switchedOffAt", e.reason, (count(*) OVER ())::int AS total
    FROM "Webhook" w CROSS JOIN LATERAL (
      SELECT "actorId", reason FROM "AuditEvent"
      WHERE "subjectType" = 'webhook' AND "subjectId" = w.id AND kind = 'exchange.webhook-switched'
      ORDER BY seq DESC LIMIT 1) e
    WHERE w."collectionId" = ${collectionId}::uuid AND NOT w.active AND e."actorId" IS NULL
    ORDER BY w."switchedOffAt" DESC, w.id LIMIT ${SHOWN}`;
}

/** Open accounts of the collection that hold one of these roles anywhere and have no confirmed second factor. */
export async function findWithoutSecondFactor(collectionId: string, roles: readonly string[]) {
  const where = {
    active: true,
    passwordDigest: { not: null },
    AND: [
      { memberships: { some: { collectionId } } },
      { memberships: { some: { role: { in: [...roles] } } } },
      { OR: [{ secondFactor: null }, { secondFactor: { confirmedAt: null } }] },
    ],
  };
  const rows = await db().person.findMany({
    where,
    select: { id: true, name: true },
    orderBy: { name: 'asc' },
    take: SHOWN,
  });
  return { total: await totalOf(rows, () => db().person.count({ where })), rows };
}

/** Who was invited and never came, with the newest link that is still open, if one is. */
export async function findInvited(collectionId: string, at: Date) {
  const where = { passwordDigest: null, active: true, memberships: { some: { collectionId } } };
  const people = await db().person.findMany({
    where,
    select: { id: true, name: true, email: true },
    orderBy: { createdAt: 'asc' },
    take: SHOWN,
  });
  const [total, links] = await Promise.all([
    totalOf(people, () => db().person.count({ where })),
    rowsOf(people, ({ id }) =>
      db().accessLink.findMany({
        where: { personId: id, usedAt: null, expiresAt: { gt: at } },
        select: { personId: true, expiresAt: true },
        orderBy: { expiresAt: 'asc' },
      }),
    ),
  ]);
  const openUntil = new Map(links.map(({ personId, expiresAt }) => [personId, expiresAt]));
  return {
    total,
    rows: people.map((person) => ({ ...person, openUntil: openUntil.get(person.id) ?? null })),
  };
}
