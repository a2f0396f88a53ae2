import { beforeAll, describe, expect, it } from 'vitest';
import { makeAccession } from '@/lib/accessions/service';
import { listHistory, verifyChain } from '@/lib/audit/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection, makeSalvage } from '@/seed/factories';

let collectionId: string;
let registrar: Actor;

const accession = async () => {
  const bird = await makeSalvage(db(), collectionId);
  return makeAccession(contextOf(registrar), {
    kind: 'salvage',
    source: 'Test donors',
    receivedOn: '2025-05-01',
    salvageIds: [bird.id],
  });
};

beforeAll(async () => {
  collectionId = await makeCollection(db());
  registrar = await makeActor(db(), collectionId, 'registrar');
  for (let made = 0; made < 5; made += 1) await accession();
});

describe('the audit trail', () => {
  it('is whole after ordinary work, and its digests are the ones the database wrote', async () => {
    const verdict = await verifyChain(collectionId);
    expect(verdict).toMatchObject({ ok: true, firstBad: null });
    expect(verdict.rows).toBeGreaterThanOrEqual(10);
  });

  it.each([
    ['update', `UPDATE "AuditEvent" SET "actorName" = 'Somebody else' WHERE seq = 2`],
    ['delete', `DELETE FROM "AuditEvent" WHERE seq = 2`],
    ['truncate', `TRUNCATE "AuditEvent"`],
    ['move the head', `UPDATE "AuditHead" SET digest = 'x'`],
  ])('refuses %s', async (_, sql) => {
    await expect(db().$executeRawUnsafe(sql)).rejects.toThrow(/append-only/);
  });

  it.each([
    [
      'an edited row',
      (id: string) => `UPDATE "AuditEvent" SET reason = 'later' WHERE "collectionId" = '${id}' AND seq = 3`,
      3,
    ],
    [
      'a deleted row',
      (id: string) => `DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq = 4`,
      5,
    ],
    [
      'two rows that changed places',
      (id: string) =>
        `UPDATE "AuditEvent" SET seq = CASE seq WHEN 6 THEN -7 ELSE -6 END WHERE "collectionId" = '${id}' AND seq IN (6, 7);
         UPDATE "AuditEvent" SET seq = -seq WHERE "collectionId" = '${id}' AND seq < 0`,
      6,
    ],
    ['a cut tail', (id: string) => `DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq > 8`, 9],
  ])('tampering by a superuser: %s is found and named', async (_, sql, seq) => {
    const copy = await makeCollection(db());
    await copyChain(collectionId, copy);
    for (const statement of sql(copy).split(';\n')) await withoutTriggers(statement);
    const verdict = await verifyChain(copy);
    expect(verdict.ok).toBe(false);
    expect(verdict.firstBad?.seq).toBe(seq);
  });

  it('rolls a change back that recorded no event', async () => {
    const name = 'Changed in silence';
    await expect(
      withTx(contextOf(registrar), (work) =>
        work.db.collection.update({ where: { id: collectionId }, data: { name } }),
      ),
    ).rejects.toThrow(/without an audit event/);
    expect((await db().collection.findUniqueOrThrow({ where: { id: collectionId } })).name).not.toBe(name);
  });

  it('tells a record’s history newest first, page by page', async () => {
    const made = await accession();
    const history = await listHistory(registrar, { subjectType: 'accession', subjectId: made.id, size: 50 });
    expect(history.rows.map((event) => event.kind)).toEqual(['accessions.made']);
    const all = await listHistory(registrar, { size: 4 });
    const rest = await listHistory(registrar, { size: 200, after: all.next ?? undefined });
    const order = [...all.rows, ...rest.rows].map((event) => event.seq);
    expect(order).toEqual([...order].sort((a, b) => b - a));
    expect(order.at(-1)).toBe(1);
  });
});

/** As a superuser with triggers off: what somebody with all rights to the server could do. */
async function withoutTriggers(sql: string): Promise<void> {
  await db().$transaction(async (tx) => {
    await tx.$executeRawUnsafe('SET LOCAL session_replication_role = replica');
    await tx.$executeRawUnsafe(sql);
  });
}

/** Plays the same events again in another collection, so that each tampering has a whole chain of its own. */
async function copyChain(from: string, to: string): Promise<void> {
  const events = await db().auditEvent.findMany({ where: { collectionId: from }, orderBy: { seq: 'asc' } });
  for (const { id: _, seq: __, previousDigest: ___, digest: ____, payload, ...event } of events) {
    await db().auditEvent.create({ data: { ...event, payload: payload ?? {}, collectionId: to } });
  }
  expect((await verifyChain(to)).ok).toBe(true);
}
