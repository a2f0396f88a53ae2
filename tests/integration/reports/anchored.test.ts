import { beforeAll, describe, expect, it, vi } from 'vitest';
import { verifyChain } from '@/lib/audit/service';
import { db } from '@/lib/platform/db';
import { explainWarnings, markReportReady, openReport, signReport } from '@/lib/reports/service/commands';
import { verifySignedReports } from '@/lib/reports/verify';
import { contextOf } from '@/seed/factories';
import { addBirdsOf2024, type Museum, makeMuseum } from './two-years';

let museum: Museum;
let signedId: string;

beforeAll(async () => {
  vi.useFakeTimers({ toFake: ['Date'] });
  vi.setSystemTime('2025-01-20T12:00:00Z');
  museum = await makeMuseum();
  await addBirdsOf2024(museum);
  const officer = () => contextOf(museum.officer);
  const opened = await openReport(officer(), { permitId: museum.permitId, onDay: '2024-06-01' });
  signedId = opened.id;
  const explained = await explainWarnings(officer(), signedId, {
    version: opened.version,
    warningIds: opened.report.warnings.map(({ id }) => id),
    text: 'Looked up in the notebook',
  });
  const ready = await markReportReady(officer(), signedId, { version: explained.version });
  await signReport(officer(), signedId, { version: ready.version });
  return () => void vi.useRealTimers();
});

describe('signed reports against somebody with every right to the database', () => {
  const tamper = (...statements: string[]) =>
    db().$transaction(async (tx) => {
      await tx.$executeRawUnsafe('SET LOCAL session_replication_role = replica');
      for (const statement of statements) await tx.$executeRawUnsafe(statement);
    });

  it('the end of the audit chain on them finds a tail that was cut together with its head', async () => {
    const { collectionId } = museum.officer;
    const { reports, anchors, faults } = await verifySignedReports();
    expect(reports).toBe(1);
    expect(faults).toEqual([]);
    expect(await verifyChain(collectionId, anchors)).toMatchObject({ ok: true });
    const first = anchors[0]?.seq ?? 0;
    expect(first).toBeGreaterThan(1);
    await tamper(
      `DELETE FROM "AuditEvent" WHERE "collectionId" = '${collectionId}' AND seq >= ${first}`,
      `UPDATE "AuditHead" h SET seq = e.seq, digest = e.digest FROM "AuditEvent" e
       WHERE h."collectionId" = '${collectionId}' AND e."collectionId" = h."collectionId" AND e.seq = ${first - 1}`,
    );
    expect(await verifyChain(collectionId)).toMatchObject({ ok: true });
    const verdict = await verifyChain(collectionId, anchors);
    expect(verdict).toMatchObject({ ok: false, firstBad: { seq: first } });
    expect(verdict.firstBad?.why).toContain('the signed report');
  });

  it('one figure that was changed in a frozen report is found', async () => {
    await tamper(
      `UPDATE "PermitReport" SET frozen = jsonb_set(frozen, '{report,total,onHand}', '99') WHERE id = '${signedId}'`,
    );
    const { faults } = await verifySignedReports();
    expect(faults).toMatchObject([{ id: signedId, why: 'its content does not give its digest' }]);
  });
});
