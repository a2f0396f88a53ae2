import { beforeEach, describe, expect, it } from 'vitest';
import { approveRecord, returnRecord } from '@/lib/catalogue/service/review';
import { remindOfPermits } from '@/lib/permits/service/reminders';
import type { Actor } from '@/lib/platform/actor';
import { dateColumn, dayIn } from '@/lib/platform/clock';
import { addDays } from '@/lib/platform/days';
import { db } from '@/lib/platform/db';
import { sayDay } from '@/lib/platform/say-dates';
import { handBirdOver, nameCoWorker, takeBird } from '@/lib/queue/claims';
import { placeHold } from '@/lib/salvage/service/triage';
import { contextOf, makeActor, makeBird, makeCollection, makePermit, makeSalvage } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { doNotices, toldTo } from './work';

let collectionId: string;
let [preparator, curator, registrar, officer] = [] as unknown as [Actor, Actor, Actor, Actor];

beforeEach(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  registrar = await makeActor(db(), collectionId, 'registrar');
  officer = await makeActor(db(), collectionId, 'permit-officer');
});

const sentences = async (actor: Actor) => {
  await doNotices(2);
  return (await toldTo(actor)).map(({ sentence }) => sentence);
};

describe('what other stages announce', () => {
  it('a returned record to its preparator, an approved one too; nobody else', async () => {
    const { record, bird } = await makeInReview(db(), preparator);
    const scribe = await makeActor(db(), collectionId, 'volunteer');
    await db().benchRecord.update({ where: { id: record.id }, data: { scribeId: scribe.personId } });
    await returnRecord(contextOf(curator), record.id, {
      version: 1,
      remarks: [{ field: 'wingMm', remark: 'Found at Hollow Pike? Measure again.' }],
    });
    const back = `Your bench record ${record.prepNumber} (${bird.number}) came back from review with 1 remark.`;
    expect(await sentences(preparator)).toEqual([back]);
    expect(await sentences(scribe)).toEqual([back]);
    const second = await makeInReview(db(), preparator);
    const { catalogueNumber } = await approveRecord(contextOf(curator), second.record.id, {
      version: 1,
      explanations: {},
    });
    expect((await sentences(preparator)).at(-1)).toBe(
      `Your bench record ${second.record.prepNumber} (${second.bird.number}) was approved: it is catalogued as ${catalogueNumber}.`,
    );
    for (const actor of [curator, registrar, officer]) expect(await sentences(actor)).toEqual([]);
  });

  it('a bird that is handed over or shared to whoever gets it', async () => {
    const bird = await makeBird(db(), collectionId);
    const [other, third] = [
      await makeActor(db(), collectionId, 'preparator'),
      await makeActor(db(), collectionId, 'preparator'),
    ];
    await takeBird(contextOf(preparator), bird.id, {});
    const { version } = await handBirdOver(contextOf(preparator), bird.id, {
      toPersonId: other.personId ?? '',
    });
    await nameCoWorker(contextOf(other), bird.id, { version, withPersonId: third.personId });
    expect(await sentences(other)).toEqual([`${preparator.name} handed ${bird.number} over to you.`]);
    expect(await sentences(third)).toEqual([`${other.name} named you to work on ${bird.number} together.`]);
    expect(await sentences(preparator)).toEqual([]);
  });

  it('a hold to officers and registrars, without the words of its reason', async () => {
    const find = await makeSalvage(db(), collectionId, { state: 'in-triage' });
    await placeHold(contextOf(preparator), find.id, {
      version: find.version,
      kind: 'disease',
      reason: 'Three more lay at Hollow Pike, says Berta Quillan.',
      tellWhom: 'District veterinarian',
    });
    const told = `${find.number} is on hold (disease). Somebody outside must be told: the record says whom.`;
    expect(await sentences(officer)).toEqual([told]);
    expect(await sentences(registrar)).toEqual([told]);
    expect(await sentences(curator)).toEqual([]);
    const [stored] = await db().$queryRaw<
      { rows: string }[]
    >`SELECT string_agg(n::text, '') AS rows FROM "Notice" n`;
    expect(stored?.rows).not.toMatch(/Hollow Pike|Quillan/);
  });

  it('a permit that ends and a report that is due to officers, each step once', async () => {
    const today = dayIn('UTC', new Date());
    const id = await makePermit(db(), collectionId, { expiresOn: addDays(today, 20) });
    const { number } = await db().permit.findUniqueOrThrow({ where: { id } });
    expect(await remindOfPermits(collectionId)).toBe(1);
    expect(await remindOfPermits(collectionId)).toBe(0);
    const ends = `Permit ${number} of Test authority ends in 20 days (${sayDay(addDays(today, 20))}).`;
    expect(await sentences(officer)).toEqual([ends]);
    await db().permit.update({
      where: { id },
      data: {
        expiresOn: dateColumn(addDays(today, 400)),
        createdAt: dateColumn(addDays(today, -800)),
        clauses: [
          {
            id: 'c1',
            text: '',
            kind: 'report-due',
            year: { basis: 'calendar' },
            due: { rule: 'days-after', days: 0 },
          },
        ],
      },
    });
    const overdue = await remindOfPermits(collectionId);
    expect(overdue).toBeGreaterThan(0);
    expect(await remindOfPermits(collectionId)).toBe(0);
    expect(
      (await sentences(officer)).slice(1).every((sentence) => /report of permit .* overdue/.test(sentence)),
    ).toBe(true);
    expect(await sentences(registrar)).toEqual([]);
  });
});
