import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { changeCustody } from '@/lib/storage/materials';
import { changeVial, endVial, findLostVial } from '@/lib/tissues/service/change';
import { showBirdVials } from '@/lib/tissues/service/fill';
import { listVials, showVial } from '@/lib/tissues/service/list';
import { subSampleVial, takeFromVial } from '@/lib/tissues/service/use';
import { changeVialRequest, subSampleRequest, useRequest, vialListQuery } from '@/lib/tissues/wire';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeFreezer, makeVials } from '@/seed/factories/storage';

let collectionId: string;
let preparator: Actor;
let cold: Awaited<ReturnType<typeof makeFreezer>>;
let next = 0;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  cold = await makeFreezer(db(), collectionId, { name: 'A', boxes: 3 });
});

const position = () => {
  const at = next++;
  return {
    unitId: cold.boxes[Math.floor(at / 81)]?.id,
    position: `${'ABCDEFGHI'[Math.floor(at / 9) % 9]}${(at % 9) + 1}`,
  };
};
async function storedVial(vial: Record<string, unknown> = {}) {
  const [made] = (await makeVials(db(), preparator, [{ position: position(), ...vial }])).vials;
  if (made === undefined) throw new Error('no vial');
  return made;
}
const take = (actor: Actor, id: string, value: number, unit = 'mg') =>
  takeFromVial(contextOf(actor), id, useRequest.parse({ amount: { value, unit }, purpose: 'DNA' }));

describe('filling', () => {
  it('gives each vial its suffix, code, times of the bird, class with reason, and warns of duplicates together', async () => {
    const bird = await makeBird(db(), collectionId, {
      birdState: 'on-the-bench',
      claimedById: preparator.personId ?? '',
      foundOn: '2025-04-03',
    });
    await db().bird.update({ where: { id: bird.id }, data: { frozenAt: new Date('2025-04-04T10:00:00Z') } });
    const first = await makeVials(
      db(),
      preparator,
      [{ position: position() }, { position: position(), tissues: ['liver', 'heart'] }],
      { birdId: bird.id },
    );
    expect(first.vials.map((vial) => vial.label)).toEqual([`${bird.number}-T1`, `${bird.number}-T2`]);
    expect(first.duplicates).toEqual({
      isApart: false,
      message: expect.stringContaining('store a duplicate in another'),
    });
    expect(first.vials[0]).toMatchObject({
      state: 'stored',
      quality: { stars: 2, reason: expect.stringContaining('salvaged') },
    });
    const record = await showVial(preparator, first.vials[0]?.id ?? '');
    expect(record.times).toMatchObject({
      diedUntilAt: '2025-04-03T23:59:59.999Z',
      frozenAt: '2025-04-04T10:00:00.000Z',
    });
    expect(record.parent).toMatchObject({ label: `${bird.number}-C`, isVial: false });

    const other = await makeFreezer(db(), collectionId, { name: 'B' });
    const second = await makeVials(
      db(),
      preparator,
      [{ position: { unitId: other.box.id, position: 'A1' } }],
      { birdId: bird.id },
    );
    expect(second.vials.map((vial) => vial.label)).toContain(`${bird.number}-T3`);
    expect(second.duplicates).toEqual({ isApart: true, message: 'Its vials lie in 2 freezers.' });
    const story = await db().auditEvent.findMany({ where: { birdId: bird.id, kind: 'tissues.filled' } });
    expect(story).toHaveLength(3);
  });

  it('two people who fill the same bird at once get different suffixes', async () => {
    const bird = await makeBird(db(), collectionId, { birdState: 'queued' });
    const results = await Promise.all(
      [1, 2, 3, 4].map(() => makeVials(db(), preparator, [{}, {}], { birdId: bird.id })),
    );
    expect(results).toHaveLength(4);
    const { vials, nextSuffix } = await showBirdVials(preparator, bird.id);
    expect(new Set(vials.map((vial) => vial.label)).size).toBe(8);
    expect(nextSuffix).toBe('T9');
  });

  it('refuses a code in use, once with the vial that has it and once with the box, and makes nothing', async () => {
    const has = await storedVial({ code: 'TUBE-1' });
    const bird = await makeBird(db(), collectionId);
    const fill = (...codes: string[]) =>
      makeVials(
        db(),
        preparator,
        codes.map((code) => ({ code })),
        { birdId: bird.id },
      );
    await expect(fill('TUBE-2', 'TUBE-1')).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'vials.1.code', message: `The code TUBE-1 is already that of ${has.label}.` }],
    });
    await expect(fill('TUBE-3', 'TUBE-3')).rejects.toMatchObject({ fields: [{ path: 'vials.1.code' }] });
    await expect(fill(cold.box.code)).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('Box 1') }],
    });
    expect((await showBirdVials(preparator, bird.id)).vials).toEqual([]);
  });

  it('refuses a bird that is gone, a volunteer who does not work on it, and another collection', async () => {
    const gone = await makeBird(db(), collectionId, { birdState: 'discarded' });
    await expect(makeVials(db(), preparator, [{}], { birdId: gone.id })).rejects.toMatchObject({
      code: 'conflict',
    });
    const bird = await makeBird(db(), collectionId);
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(makeVials(db(), volunteer, [{}], { birdId: bird.id })).rejects.toMatchObject({
      code: 'forbidden',
    });
    const officer = await makeActor(db(), collectionId, 'permit-officer');
    await expect(makeVials(db(), officer, [{}], { birdId: bird.id })).rejects.toMatchObject({
      code: 'forbidden',
    });
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    await expect(makeVials(db(), stranger, [{}], { birdId: bird.id })).rejects.toMatchObject({
      code: 'not-found',
    });
  });
});

describe('taking from a vial', () => {
  it('reduces it, keeps who, when and what for, and empties the position at the end', async () => {
    const vial = await storedVial();
    const after = await take(preparator, vial.id, 40);
    expect(after).toMatchObject({
      left: { value: 60, unit: 'mg' },
      state: 'partly-used',
      uses: [{ amount: { value: 40 }, by: preparator.name }],
    });
    const empty = await take(preparator, vial.id, 0.06, 'g');
    expect(empty).toMatchObject({ left: { value: 0 }, state: 'used-up', custody: 'used-up', place: null });
    await expect(take(preparator, vial.id, 1)).rejects.toMatchObject({ code: 'conflict' });
  });

  it('never goes below zero: of twenty who take 10 mg from 100 mg at once, ten get it', async () => {
    const vial = await storedVial();
    const results = await Promise.allSettled(Array.from({ length: 20 }, () => take(preparator, vial.id, 10)));
    expect(results.filter((result) => result.status === 'fulfilled')).toHaveLength(10);
    for (const result of results) {
      if (result.status === 'rejected') expect(result.reason).toMatchObject({ code: 'conflict' });
    }
    expect(await db().vial.findUniqueOrThrow({ where: { materialId: vial.id } })).toMatchObject({
      amountLeft: 0,
    });
    expect(await db().vialUse.count({ where: { vialId: vial.id } })).toBe(10);
    await expect(
      db().vial.update({ where: { materialId: vial.id }, data: { amountLeft: -1 } }),
    ).rejects.toThrow(/vial_amount/);
  });

  it('refuses more than there is, another dimension, one never measured, one out on loan, and other roles', async () => {
    const vial = await storedVial();
    await expect(take(preparator, vial.id, 101)).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('more than there is: 100 mg'),
    });
    await expect(take(preparator, vial.id, 1, 'ml')).rejects.toMatchObject({ code: 'not-valid' });
    const unmeasured = await storedVial({ amount: null });
    await expect(take(preparator, unmeasured.id, 1)).rejects.toMatchObject({
      message: expect.stringContaining('never measured'),
    });
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(take(volunteer, vial.id, 1)).rejects.toMatchObject({ code: 'forbidden' });
    await withTx(contextOf(preparator), async (work) => {
      await changeCustody(work, { materialId: vial.id, from: 'on-shelf', to: 'on-loan' });
    });
    await expect(take(preparator, vial.id, 1)).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('on loan'),
    });
    expect((await showVial(preparator, vial.id)).left).toEqual({ value: 100, unit: 'mg' });
  });

  it('a sub-sample is a vial of its own under the first; a thaw counts for both', async () => {
    const vial = await storedVial();
    const divide = (value: number) =>
      subSampleVial(
        contextOf(preparator),
        vial.id,
        subSampleRequest.parse({
          amount: { value, unit: 'mg' },
          purpose: 'genome project',
          thawed: true,
          position: position(),
        }),
      );
    await divide(20);
    const parent = await divide(30);
    expect(parent).toMatchObject({ left: { value: 50 }, thawCount: 2, thaws: [{ thaws: 1 }, { thaws: 1 }] });
    expect(parent.children.map((child) => [child.label, child.left?.value, child.thawCount])).toEqual([
      [`${vial.label}.1`, 20, 1],
      [`${vial.label}.2`, 30, 2],
    ]);
    const child = await showVial(preparator, parent.children[0]?.id ?? '');
    expect(child.parent).toMatchObject({ id: vial.id, isVial: true });
  });
});

describe('the record of a vial', () => {
  it('is measured once, corrected with a reason, and rated anew by its yield', async () => {
    const vial = await storedVial({ amount: null });
    const change = (input: Record<string, unknown>) =>
      changeVial(contextOf(preparator), vial.id, changeVialRequest.parse({ reason: 'measured', ...input }));
    const { version } = await showVial(preparator, vial.id);
    const measured = await change({ version, amount: { value: 80, unit: 'mg' }, dnaYieldUg: 300 });
    expect(measured).toMatchObject({ amount: { value: 80 }, left: { value: 80 }, quality: { stars: 1 } });
    await expect(change({ version, remarks: 'x' })).rejects.toMatchObject({ code: 'stale-version' });
    await expect(
      change({ version: measured.version, amount: { value: 90, unit: 'mg' } }),
    ).rejects.toMatchObject({ code: 'not-valid' });
    const [event] = await db().auditEvent.findMany({
      where: { subjectId: vial.id, kind: 'tissues.changed' },
    });
    expect(event).toMatchObject({
      reason: 'measured',
      payload: { changes: { dnaYieldUg: { from: null, to: 300 } } },
    });
  });

  it('lost and found again, used up: custody and state go together, and only once', async () => {
    const vial = await storedVial();
    await take(preparator, vial.id, 10);
    const end = (act: 'lose' | 'use-up') =>
      endVial(contextOf(preparator), vial.id, { act, reason: 'rack tipped over' });
    expect(await end('lose')).toMatchObject({ custody: 'missing', state: 'lost', place: null });
    await expect(end('lose')).rejects.toMatchObject({ code: 'conflict' });
    const found = await findLostVial(contextOf(preparator), vial.id, {
      reason: 'behind the rack',
      to: { unitId: cold.boxes[2]?.id ?? '', position: 'I9' },
    });
    expect(found).toMatchObject({
      custody: 'on-shelf',
      state: 'partly-used',
      place: expect.stringMatching(/I9$/),
    });
    expect(await end('use-up')).toMatchObject({
      custody: 'used-up',
      left: { value: 0 },
      abilities: { use: false, lose: false },
    });
  });

  it('is found by tissue, preservation, class, state, place, name and code, page by page', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'curator');
    const place = await makeFreezer(db(), own, {});
    const taxonId = await makeTaxon(db(), { scientificName: 'Sitta europaea', commonName: 'Nuthatch' });
    const bird = await makeBird(db(), own, { taxonId });
    await makeVials(
      db(),
      actor,
      [
        { tissues: ['liver'], position: { unitId: place.box.id, position: 'A1' } },
        { tissues: ['heart'], preservation: { kind: 'ethanol', ethanolPercent: 96 }, code: 'E-1' },
        { tissues: ['brain'] },
      ],
      { birdId: bird.id },
    );
    const list = async (input: Record<string, unknown>) =>
      (await listVials(actor, vialListQuery.parse(input))).rows.map((row) => row.tissues[0]);
    expect(await list({})).toEqual(expect.arrayContaining(['liver', 'heart', 'brain']));
    expect(await list({ tissue: 'heart' })).toEqual(['heart']);
    expect(await list({ preservation: 'ethanol' })).toEqual(['heart']);
    expect(await list({ quality: '2' })).toEqual(['liver']);
    expect(await list({ state: 'stored' })).toEqual(['liver']);
    expect(await list({ unitId: place.freezer.id })).toEqual(['liver']);
    expect(await list({ q: 'e-1' })).toEqual(['heart']);
    expect(await list({ q: 'nuthatch' })).toHaveLength(3);
    const first = await listVials(actor, vialListQuery.parse({ size: '2' }));
    const rest = await listVials(actor, vialListQuery.parse({ size: '2', after: first.next }));
    expect(new Set([...first.rows, ...rest.rows].map((row) => row.id)).size).toBe(3);
    expect(rest.next).toBeNull();
  });
});
