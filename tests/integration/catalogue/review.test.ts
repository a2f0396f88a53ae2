import { beforeAll, describe, expect, it } from 'vitest';
import { amendRecord, deaccessionMaterial, determineBird, showSheet } from '@/lib/catalogue/service/record';
import { approveRecord, listReview, returnRecord, showReview } from '@/lib/catalogue/service/review';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { labelOf } from '@/lib/storage/public';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

let collectionId: string;
let preparator: Actor;
let curator: Actor;
let second: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  second = await makeActor(db(), collectionId, 'curator');
});

const approve = (actor: Actor, id: string, version = 1, explanations: Record<string, string> = {}) =>
  approveRecord(contextOf(actor), id, { version, explanations });

describe('the review desk', () => {
  it('lists what waits, the longest waiting first, with what stands in the way', async () => {
    const own = await makeCollection(db());
    const worker = await makeActor(db(), own, 'preparator');
    const reviewer = await makeActor(db(), own, 'curator');
    const late = await makeInReview(db(), worker);
    const early = await makeInReview(db(), worker, { values: { sex: undefined, leftOvary: undefined } });
    await db().benchRecord.update({
      where: { id: early.record.id },
      data: { sentAt: new Date('2025-05-01T10:00:00Z') },
    });
    const { rows, total } = await listReview(reviewer, { size: 50 });
    expect(rows.map(({ id }) => id)).toEqual([early.record.id, late.record.id]);
    expect(total).toBe(2);
    expect(rows[0]).toMatchObject({ blocks: 1, firstPoint: expect.stringContaining('Sex is not recorded') });
    expect(rows[1]).toMatchObject({ blocks: 0 });
    const page = await listReview(reviewer, { size: 1 });
    const next = await listReview(reviewer, { size: 1, after: page.next ?? '' });
    expect([page.rows[0]?.id, next.rows[0]?.id, next.next]).toEqual([early.record.id, late.record.id, null]);
  });

  it('shows similar approved specimens, those of the same sex first', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Catharus guttatus' });
    const [male, female, third] = [
      await makeInReview(db(), preparator, {
        taxonId,
        values: { sex: 'male', leftTestis: { lengthMm: 3 }, leftOvary: undefined },
      }),
      await makeInReview(db(), preparator, { taxonId }),
      await makeInReview(db(), preparator, { taxonId }),
    ];
    await approve(curator, female.record.id);
    await approve(curator, male.record.id);
    await db().bird.update({ where: { id: third.bird.id }, data: { sex: 'female' } });
    const { similar } = await showReview(curator, third.record.id);
    expect(similar.map(({ birdId, sex, massG }) => [birdId, sex, massG])).toEqual([
      [female.bird.id, 'female', 78.2],
      [male.bird.id, 'male', 78.2],
    ]);
  });

  it('is for curators of the collection only', async () => {
    const { record } = await makeInReview(db(), preparator);
    await expect(showReview(preparator, record.id)).rejects.toMatchObject({ code: 'forbidden' });
    const stranger = await makeActor(db(), await makeCollection(db()), 'curator');
    await expect(showReview(stranger, record.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});

describe('approval', () => {
  it('numbers, keeps the record as approved, locks it, and the labels follow', async () => {
    const { bird, record, materials } = await makeInReview(db(), preparator);
    const { catalogueNumber } = await approve(curator, record.id);
    const after = await db().bird.findUniqueOrThrow({
      where: { id: bird.id },
      include: { bench: true, catalogue: true, determinations: true },
    });
    expect(after.bench?.state).toBe('approved');
    expect(after.sex).toBe('female');
    expect(after.catalogue).toMatchObject({ number: catalogueNumber, approvedById: curator.personId });
    expect(after.catalogue?.approved).toMatchObject({ prepNumber: record.prepNumber, sex: 'female' });
    expect(after.determinations).toMatchObject([{ current: true, taxonId: bird.taxonId }]);
    expect(labelOf({ suffix: materials[0]?.suffix ?? '', bird: after })).toBe(`${catalogueNumber}-S`);
    const [event] = await db().auditEvent.findMany({
      where: { birdId: bird.id, kind: 'catalogue.approved' },
    });
    expect(event?.payload).toMatchObject({ catalogueNumber });
    await expect(db().benchRecord.update({ where: { id: record.id }, data: { values: {} } })).rejects.toThrow(
      'approved and locked',
    );
    await expect(
      db().benchEntry.create({
        data: { recordId: record.id, field: 'massG', value: 80, enteredById: curator.personId ?? '' },
      }),
    ).rejects.toThrow('approved and locked');
    await expect(
      db().catalogueEntry.update({ where: { birdId: bird.id }, data: { number: 'X-1' } }),
    ).rejects.toThrow('kept as it was approved');
  });

  it('gives consecutive numbers without gaps when many approve at once', async () => {
    const own = await makeCollection(db());
    const worker = await makeActor(db(), own, 'preparator');
    const reviewer = await makeActor(db(), own, 'curator');
    const made = await Promise.all(Array.from({ length: 20 }, () => makeInReview(db(), worker)));
    const answers = await Promise.all(made.map(({ record }) => approve(reviewer, record.id)));
    const running = answers.map(({ catalogueNumber }) => Number(/(\d+)$/.exec(catalogueNumber)?.[1]));
    expect(running.sort((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, index) => index + 1));
  });

  it('of two curators at once, one approves and the other hears of it', async () => {
    const { record } = await makeInReview(db(), preparator);
    const outcomes = await Promise.allSettled([approve(curator, record.id), approve(second, record.id)]);
    expect(outcomes.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const [refused] = outcomes.filter((outcome) => outcome.status === 'rejected');
    expect(refused?.reason).toMatchObject({ code: 'conflict', status: 409 });
    expect(await db().catalogueEntry.count({ where: { birdId: record.birdId } })).toBe(1);
  });

  it('nobody approves their own: not by the service and not in the database', async () => {
    const both = await makeActor(db(), collectionId, 'curator', 'preparator');
    const { bird, record } = await makeInReview(db(), both);
    await expect(approve(both, record.id)).rejects.toMatchObject({ code: 'forbidden' });
    await expect(
      db().catalogueEntry.create({
        data: {
          collectionId,
          birdId: bird.id,
          number: 'X-2',
          approvedById: both.personId ?? '',
          approved: {},
        },
      }),
    ).rejects.toThrow('Nobody approves');
    expect((await showReview(both, record.id)).abilities.approve).toBe(false);
  });

  it('counts the scribe, and whoever wrote a value, among those whose work it is', async () => {
    const scribed = await makeInReview(db(), preparator);
    await db().benchRecord.update({ where: { id: scribed.record.id }, data: { scribeId: curator.personId } });
    await expect(approve(curator, scribed.record.id)).rejects.toMatchObject({ code: 'forbidden' });
    const entered = await makeInReview(db(), preparator);
    await db().benchEntry.create({
      data: { recordId: entered.record.id, field: 'massG', value: 80, enteredById: curator.personId ?? '' },
    });
    await expect(approve(curator, entered.record.id)).rejects.toMatchObject({ code: 'forbidden' });
    await expect(
      db().catalogueEntry.create({
        data: {
          collectionId,
          birdId: entered.bird.id,
          number: 'X-3',
          approvedById: curator.personId ?? '',
          approved: {},
        },
      }),
    ).rejects.toThrow('Nobody approves');
    await expect(approve(second, entered.record.id)).resolves.toMatchObject({ birdId: entered.bird.id });
  });

  it('needs an explanation for each point in the way, and uses up no number without it', async () => {
    const own = await makeCollection(db());
    const worker = await makeActor(db(), own, 'preparator');
    const reviewer = await makeActor(db(), own, 'curator');
    const { bird, record } = await makeInReview(db(), worker, {
      values: { sex: undefined, leftOvary: undefined },
    });
    await expect(approve(reviewer, record.id)).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'explanations.no-sex' }],
    });
    const { catalogueNumber } = await approve(reviewer, record.id, 1, {
      'no-sex': 'Gonads lost in the strike.',
    });
    expect(catalogueNumber).toMatch(/0*1$/);
    expect((await showSheet(reviewer, bird.id)).explained).toEqual([
      { point: expect.stringContaining('Sex is not recorded'), explanation: 'Gonads lost in the strike.' },
    ]);
  });

  it('no explanation stands in for a lifted hold or the officer’s ruling', async () => {
    const { bird, record } = await makeInReview(db(), preparator, { coverage: 'needs-attention' });
    await expect(approve(curator, record.id, 1, { coverage: 'It is fine.' })).rejects.toMatchObject({
      fields: [{ path: 'explanations.coverage' }],
    });
    await db().salvageRecord.update({ where: { id: bird.salvageId }, data: { coverage: 'covered' } });
    await db().hold.create({ data: { salvageId: bird.salvageId, kind: 'legal', reason: 'evidence' } });
    await expect(approve(curator, record.id, 1, { 'on-hold': 'It is fine.' })).rejects.toMatchObject({
      fields: [{ path: 'explanations.on-hold' }],
    });
  });
});

describe('return with remarks', () => {
  it('goes back with its remarks, comes again with what changed since', async () => {
    const { record } = await makeInReview(db(), preparator);
    const old = await db().benchEntry.create({
      data: {
        recordId: record.id,
        field: 'wingMm',
        value: 128,
        enteredById: preparator.personId ?? '',
        enteredAt: new Date('2025-05-02T10:00:00Z'),
      },
    });
    const remarks = [{ field: 'wingMm', remark: 'Measure the wing again, flattened.' }];
    const returned = await returnRecord(contextOf(curator), record.id, { version: 1, remarks });
    expect(returned).toMatchObject({ state: 'returned', abilities: { approve: false, return: false } });
    await expect(approve(curator, record.id, 2)).rejects.toMatchObject({ code: 'conflict' });

    const at = new Date();
    await db().benchEntry.update({ where: { id: old.id }, data: { supersededAt: at } });
    await db().benchEntry.create({
      data: {
        recordId: record.id,
        field: 'wingMm',
        value: 131,
        enteredById: preparator.personId ?? '',
        enteredAt: at,
      },
    });
    const stored = await db().benchRecord.findUniqueOrThrow({ where: { id: record.id } });
    const values = stored.values as Record<string, { value: unknown }>;
    await db().benchRecord.update({
      where: { id: record.id },
      data: { state: 'in-review', values: { ...values, wingMm: { ...values.wingMm, value: 131 } } },
    });
    const fresh = (await makeInReview(db(), preparator)).record;
    const { rows } = await listReview(curator, { size: 100 });
    const returnedBefore = (id: string) => rows.find((row) => row.id === id)?.returnedBefore;
    expect([returnedBefore(record.id), returnedBefore(fresh.id)]).toEqual([true, false]);
    await db().boneEntry.updateMany({
      where: { birdId: record.birdId, element: 'humerus' },
      data: { state: 'broken' },
    });
    const again = await showReview(second, record.id);
    expect(again.lastReturn).toMatchObject({
      by: curator.name,
      remarks,
      changes: [{ field: 'wingMm', from: 128, to: 131 }],
      boneChanges: [{ bone: 'humerus/left/whole', from: 'whole, skeleton', to: 'broken, skeleton' }],
    });
    await expect(approve(second, record.id, 2)).resolves.toMatchObject({ birdId: record.birdId });
  });

  it('does not return what somebody changed meanwhile', async () => {
    const { record } = await makeInReview(db(), preparator);
    await expect(
      returnRecord(contextOf(curator), record.id, {
        version: 7,
        remarks: [{ field: 'sex', remark: 'Look again.' }],
      }),
    ).rejects.toMatchObject({ code: 'stale-version' });
  });
});

describe('after approval', () => {
  const approved = async () => {
    const made = await makeInReview(db(), preparator);
    await approve(curator, made.record.id);
    return made;
  };

  it('amends with a reason and keeps both values', async () => {
    const { bird } = await approved();
    const sheet = await amendRecord(contextOf(curator), bird.id, {
      field: 'wingMm',
      before: 128,
      after: 126.5,
      reason: 'Read off the wrong end of the rule.',
    });
    expect(sheet.amendments).toMatchObject([
      { field: 'wingMm', before: 128, after: 126.5, by: curator.name },
    ]);
    expect(sheet.fields.find(({ field }) => field === 'wingMm')?.value).toBe(126.5);
    const entry = await db().catalogueEntry.findUniqueOrThrow({ where: { birdId: bird.id } });
    expect(entry.approved).toMatchObject({ values: { wingMm: { value: 128 } } });
    await expect(db().amendment.deleteMany({ where: { entryId: entry.id } })).rejects.toThrow('FURCULA');
  });

  it('refuses an amendment of a value that has changed, and one that is no value of the field', async () => {
    const { bird } = await approved();
    const amend = (before: number, after: number | string) =>
      amendRecord(contextOf(curator), bird.id, { field: 'wingMm', before, after, reason: 'A slip.' });
    await expect(amend(999, 126)).rejects.toMatchObject({ code: 'stale-version' });
    await expect(amend(128, 'long')).rejects.toMatchObject({ code: 'not-valid' });
    await expect(amend(128, 128)).rejects.toMatchObject({ code: 'not-valid' });
  });

  it('an unapproved record takes no amendments', async () => {
    const { bird } = await makeInReview(db(), preparator);
    await expect(
      amendRecord(contextOf(curator), bird.id, {
        field: 'wingMm',
        before: 128,
        after: 126,
        reason: 'A slip.',
      }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });

  it('keeps every identification, one of them current, and the bird follows', async () => {
    const { bird } = await approved();
    const taxonId = await makeTaxon(db(), { scientificName: 'Turdus pilaris' });
    const sheet = await determineBird(contextOf(curator), bird.id, {
      verbatim: 'T. pilaris',
      taxonId,
      qualifier: 'cf.',
      determinedBy: 'A visiting ornithologist',
      determinedOn: '2025-06-01',
    });
    expect(sheet).toMatchObject({ scientificName: 'Turdus pilaris', qualifier: 'cf.' });
    expect(sheet.determinations.map(({ name, current }) => [name, current])).toEqual([
      ['Turdus pilaris', true],
      ['Turdus migratorius', false],
    ]);
  });

  it('deaccessions with authority and paper; the bird closes when nothing is left', async () => {
    const { bird } = await approved();
    const leave = async (kind: string) => {
      const material = await db().material.findFirstOrThrow({ where: { birdId: bird.id, kind } });
      return deaccessionMaterial(contextOf(curator), bird.id, {
        materialId: material.id,
        version: material.version,
        method: 'transferred',
        on: '2025-09-01',
        recipient: 'A school of the next town',
        authority: 'Collections committee',
        document: 'CC-2025-14',
        reason: 'Exchange with a teaching collection.',
      });
    };
    const sheet = await leave('skin');
    expect(sheet.materials.find(({ kind }) => kind === 'skin')).toMatchObject({
      custody: 'deaccessioned',
      deaccession: { authority: 'Collections committee', document: 'CC-2025-14' },
    });
    expect((await db().bird.findUniqueOrThrow({ where: { id: bird.id } })).disposition).toBeNull();
    await leave('skeleton');
    expect((await leave('wing')).stage).toBe('deaccessioned');
    expect(await db().bird.findUniqueOrThrow({ where: { id: bird.id } })).toMatchObject({
      disposition: 'transferred',
    });
    expect(await db().catalogueIndex.findUniqueOrThrow({ where: { birdId: bird.id } })).toMatchObject({
      stage: 'deaccessioned',
    });
    await expect(leave('skin')).rejects.toMatchObject({ code: 'conflict' });
  });
});

describe('a visitor', () => {
  it('sees approved birds only, the county and no exact place; of a sensitive taxon the state only', async () => {
    const visitor = await makeActor(db(), collectionId, 'visitor');
    const waiting = await makeBird(db(), collectionId);
    await expect(showSheet(visitor, waiting.id)).rejects.toMatchObject({ code: 'not-found' });
    const plain = await makeInReview(db(), preparator);
    const taxonId = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
    const rare = await makeInReview(db(), preparator, { taxonId });
    await approve(curator, plain.record.id);
    await approve(curator, rare.record.id);
    expect((await showSheet(visitor, plain.bird.id)).origin).toMatchObject({
      county: 'Franklin',
      locality: null,
      latitude: null,
      generalised: true,
    });
    const sheet = await showSheet(visitor, rare.bird.id);
    expect(sheet.origin).toMatchObject({ county: null, stateProvince: 'Ohio', locality: null });
    expect(JSON.stringify(sheet)).not.toContain('window of a library');
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    expect((await showSheet(volunteer, rare.bird.id)).origin.locality).toBeNull();
    expect((await showSheet(volunteer, plain.bird.id)).origin.locality).toContain('library');
  });
});
