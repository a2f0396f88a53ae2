import { expect, it } from 'vitest';
import { amendRecord, showSheet } from '@/lib/catalogue/service/record';
import { approveRecord } from '@/lib/catalogue/service/review';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

it('offers earlier values to put back, which is an amendment with a reason; to nobody else', async () => {
  const collectionId = await makeCollection(db());
  const preparator = await makeActor(db(), collectionId, 'preparator');
  const curator = await makeActor(db(), collectionId, 'curator');
  const { bird, record } = await makeInReview(db(), preparator);
  await approveRecord(contextOf(curator), record.id, { version: 1, explanations: {} });
  const amend = (before: number, after: number, reason: string) =>
    amendRecord(contextOf(curator), bird.id, { field: 'wingMm', before, after, reason });
  expect((await showSheet(curator, bird.id)).earlier).toEqual([]);
  const { earlier } = await amend(128, 126.5, 'Read off the wrong end of the rule.');
  expect(earlier).toEqual([{ field: 'wingMm', value: 128, at: expect.any(String) }]);
  expect((await showSheet(preparator, bird.id)).earlier).toEqual([]);
  const back = await amend(126.5, 128, 'It was the right end after all.');
  expect(back.earlier.map(({ value }) => value)).toEqual([126.5]);
  expect(back.fields.find(({ field }) => field === 'wingMm')?.value).toBe(128);
  expect(back.amendments.map(({ before, after }) => [before, after])).toEqual([
    [126.5, 128],
    [128, 126.5],
  ]);
  const events = await db().auditEvent.findMany({
    where: { birdId: bird.id, kind: 'catalogue.amended' },
    orderBy: { seq: 'asc' },
  });
  expect(events.map(({ payload, reason }) => [payload, reason])).toMatchObject([
    [{ field: 'wingMm', from: 128, to: 126.5 }, 'Read off the wrong end of the rule.'],
    [{ field: 'wingMm', from: 126.5, to: 128 }, 'It was the right end after all.'],
  ]);
  await expect(
    amendRecord(contextOf(preparator), bird.id, {
      field: 'wingMm',
      before: 128,
      after: 126.5,
      reason: 'No right to.',
    }),
  ).rejects.toMatchObject({ code: 'forbidden' });
});
