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
