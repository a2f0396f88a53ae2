import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { verifyChain } from '@/lib/audit/service';
import { db } from '@/lib/platform/db';
import { recheckAll } from '@/lib/salvage/service/coverage';
import { eraseFinder, eraseOldContacts, exportFinder } from '@/lib/salvage/service/finder-privacy';
import { reportFind } from '@/lib/salvage/service/report';
import { finderExport } from '@/lib/salvage/wire-finder';
import { contextOf } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
});

const DAY_MS = 24 * 3_600_000;
const contact = (words: string) => ({
  name: `${words} Finder`,
  email: `${words}-${randomUUID()}@finder.example`,
  phone: null,
  address: '1 Test Lane',
});
const log = (finder: Record<string, unknown>) =>
  reportFind(contextOf(lab.as.volunteer), find(lab, { finder, facts: {} }));
const rowOf = (id: string) => db().finder.findFirstOrThrow({ where: { salvages: { some: { id } } } });

describe('all that is kept of a finder', () => {
  it('has every report under one e-mail, however it is written, and nobody else’s', async () => {
    const ada = contact('Ada');
    const first = await log(ada);
    const second = await log({ ...ada, name: 'A. Finder', email: ada.email.toUpperCase() });
    const other = await log(contact('Bert'));
    const kept = finderExport.parse(await exportFinder(contextOf(lab.as.registrar), second.id));
    expect(kept.finders.map(({ name }) => name)).toEqual(['Ada Finder', 'A. Finder']);
    expect(kept.finders[0]).toMatchObject({ email: ada.email, address: '1 Test Lane', erasedAt: null });
    expect(kept.finders.flatMap(({ finds }) => finds)).toMatchObject([
      {
        number: first.number,
        foundFrom: '2024-05-01',
        verbatimTaxon: 'robin',
        circumstances: 'below a window',
      },
      { number: second.number },
    ]);
    expect(JSON.stringify(kept)).not.toContain(other.number);
    const told = await db().auditEvent.findMany({ where: { kind: 'salvage.finder-exported' } });
    expect(told.map(({ subjectId }) => subjectId).sort()).toEqual([first.id, second.id].sort());
    expect(JSON.stringify(told.map(({ payload }) => payload))).not.toContain('finder.example');
  });

  it('is for registrar and permit officer; without e-mail and telephone nobody else is taken for the same', async () => {
    const [one, two] = [await log({ name: 'Cy' }), await log({ name: 'Cy' })];
    const kept = await exportFinder(contextOf(lab.as['permit-officer']), one.id);
    expect(kept.finders.flatMap(({ finds }) => finds.map(({ number }) => number))).toEqual([one.number]);
    for (const role of ['volunteer', 'preparator', 'curator', 'administrator', 'visitor'] as const)
      await expect(exportFinder(contextOf(lab.as[role]), two.id)).rejects.toMatchObject({
        code: 'forbidden',
      });
    const ours = await reportFind(contextOf(lab.as.volunteer), find(lab));
    await expect(exportFinder(contextOf(lab.as.registrar), ours.id)).rejects.toMatchObject({
      code: 'not-found',
    });
  });
});

describe('contact data that were kept long enough', () => {
  it('are erased where every bird is settled and quiet, and the history says so; the name and the rest stay', async () => {
    const start = new Date();
    const logged = { waiting: await log(contact('Waiting')), settled: await log(contact('Settled')) };
    const declined = await log(contact('Declined'));
    const busy = await log(contact('Busy'));
    const erasedBefore = await log(contact('Erased'));
    const ids = [declined.id, busy.id, logged.settled.id];
    await db().hold.updateMany({ where: { salvageId: { in: ids } }, data: { liftedAt: start } });
    await db().salvageRecord.updateMany({
      where: { id: { in: [declined.id, busy.id] } },
      data: { state: 'declined' },
    });
    await db().salvageRecord.update({ where: { id: logged.settled.id }, data: { state: 'accepted' } });
    const taken = await db().bird.create({
      data: { collectionId: lab.collectionId, salvageId: logged.settled.id, number: randomUUID() },
    });
    await eraseFinder(contextOf(lab.as.registrar), erasedBefore.id, {
      version: erasedBefore.version,
      reason: 'asked',
    });
    vi.useFakeTimers({ toFake: ['Date'], now: start.getTime() + 50 * DAY_MS });
    try {
      expect(await eraseOldContacts(lab.collectionId, 60), 'nothing is old enough').toBe(0);
      await exportFinder(contextOf(lab.as.registrar), busy.id);
      vi.setSystemTime(start.getTime() + 61 * DAY_MS);
      expect(await eraseOldContacts(lab.collectionId, 60), 'only the declined one is settled').toBe(1);
      await db().bird.update({ where: { id: taken.id }, data: { state: 'prepared' } });
      const bothAtOnce = [1, 2].map(() => eraseOldContacts(lab.collectionId, 60));
      expect((await Promise.all(bothAtOnce)).reduce((sum, count) => sum + count)).toBe(1);
    } finally {
      vi.useRealTimers();
    }
    for (const { id } of [declined, logged.settled])
      expect(await rowOf(id)).toMatchObject({
        name: expect.stringContaining('Finder'),
        email: null,
        address: null,
        erasedAt: null,
        contactExpiredAt: expect.any(Date),
      });
    const verdicts = () =>
      db().salvageRecord.findMany({
        where: { id: { in: ids } },
        select: { id: true, coverage: true },
        orderBy: { id: 'asc' },
      });
    const before = await verdicts();
    await recheckAll(lab.collectionId, 'a test');
    expect(await verdicts(), 'a check made anew judges no worse').toEqual(before);
    for (const { id } of [busy, logged.waiting])
      expect(await rowOf(id)).toMatchObject({ address: '1 Test Lane' });
    const told = await db().auditEvent.findMany({ where: { kind: 'salvage.finder-contact-expired' } });
    expect(told.map(({ subjectId }) => subjectId).sort()).toEqual([declined.id, logged.settled.id].sort());
    expect(told).toMatchObject([{ actorId: null, payload: { days: 60 } }, { actorId: null }]);
    expect(await verifyChain(lab.collectionId)).toMatchObject({ ok: true });
  });
});
