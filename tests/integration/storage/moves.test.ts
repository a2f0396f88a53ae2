import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { changeCustody } from '@/lib/storage/materials';
import { findByCode } from '@/lib/storage/service/codes';
import { moveUnit } from '@/lib/storage/service/move-unit';
import { listMoves, moveMaterials } from '@/lib/storage/service/moves';
import { showTree, showUnit } from '@/lib/storage/service/tree';
import { changeUnit, makeUnits } from '@/lib/storage/service/units';
import { changeUnitRequest, makeUnitsRequest } from '@/lib/storage/wire';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';
import { makeFreezer, makeUnit, makeVials, NINE } from '@/seed/factories/storage';

let collectionId: string;
let preparator: Actor;
let cold: Awaited<ReturnType<typeof makeFreezer>>;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  cold = await makeFreezer(db(), collectionId, { name: 'Freezer A', boxes: 2, rackCapacity: 2 });
});

const put = (actor: Actor, materialId: string, unitId: string, position?: string) =>
  moveMaterials(contextOf(actor), { moves: [{ materialId, to: { unitId, position } }] });

async function newVial(vial: Record<string, unknown> = {}) {
  const { vials } = await makeVials(db(), preparator, [vial]);
  const [made] = vials;
  if (made === undefined) throw new Error('no vial');
  return made;
}

describe('one material in one place, one place for one material', () => {
  it('puts a vial where a person wrote it, stores it, classes it by the freezer and keeps the move', async () => {
    const vial = await newVial();
    expect(vial).toMatchObject({ state: 'filled', quality: { stars: null } });
    const { materials } = await put(preparator, vial.id, cold.box.id, ' a-01 ');
    expect(materials).toMatchObject([
      { position: 'A1', state: 'stored', place: expect.stringMatching(/› A1$/) },
    ]);
    expect(await db().vial.findUniqueOrThrow({ where: { materialId: vial.id } })).toMatchObject({
      storedAtC: -80,
      qualityClass: 2,
      qualityReason: expect.stringContaining('salvaged'),
    });
    const { moves } = await listMoves(preparator, vial.id);
    expect(moves).toMatchObject([
      { from: null, to: expect.stringContaining('Freezer A'), by: preparator.name },
    ]);
    const events = await db().auditEvent.findMany({
      where: { subjectId: vial.id, kind: 'storage.material-moved' },
    });
    expect(events).toMatchObject([{ birdId: vial.birdId }]);
  });

  it('says who holds a position that is taken, as a conflict, and moves nothing', async () => {
    const [first, second] = [await newVial(), await newVial()];
    await put(preparator, first.id, cold.box.id, 'B1');
    await expect(put(preparator, second.id, cold.box.id, 'b1')).rejects.toMatchObject({
      code: 'conflict',
      status: 409,
      message: `Box 1 B1 already holds ${first.label}. Nothing was moved.`,
    });
    expect(await db().placement.count({ where: { materialId: second.id } })).toBe(0);
  });

  it('gives one position to exactly one of many at once', async () => {
    const { vials } = await makeVials(
      db(),
      preparator,
      Array.from({ length: 12 }, () => ({})),
    );
    const results = await Promise.allSettled(
      vials.map((vial) => put(preparator, vial.id, cold.box.id, 'C1')),
    );
    expect(results.filter((result) => result.status === 'fulfilled')).toHaveLength(1);
    for (const result of results) {
      if (result.status === 'rejected') expect(result.reason).toMatchObject({ status: 409 });
    }
    expect(await db().placement.count({ where: { unitId: cold.box.id, position: 'C1' } })).toBe(1);
  });

  it('the database itself refuses two in a position, and a material in a position where a unit stands', async () => {
    const shelf = await makeUnit(db(), collectionId, { parentId: cold.freezer.id, kind: 'rack', grid: NINE });
    const box = await makeUnit(db(), collectionId, { parentId: shelf.id, parentPosition: 'A1', grid: NINE });
    const [first, second] = [await newVial(), await newVial()];
    const write = (materialId: string, position: string) =>
      db().placement.create({ data: { materialId, unitId: shelf.id, position } });
    await write(first.id, 'A2');
    await expect(write(second.id, 'A2')).rejects.toThrow(/unique/i);
    await expect(write(second.id, 'A1')).rejects.toThrow(`This position already holds ${box.name}.`);
    await expect(
      db().storageUnit.update({ where: { id: box.id }, data: { parentPosition: 'A2' } }),
    ).rejects.toThrow(/already holds/);
    await expect(put(preparator, second.id, shelf.id, 'A1')).rejects.toMatchObject({
      message: expect.stringContaining(`already holds ${box.name}`),
    });
  });

  it('all moves of a request or none', async () => {
    const [first, second] = [await newVial(), await newVial()];
    const moves = [
      { materialId: first.id, to: { unitId: cold.box.id, position: 'D1' } },
      { materialId: second.id, to: { unitId: cold.box.id, position: 'Z9' } },
    ];
    await expect(moveMaterials(contextOf(preparator), { moves })).rejects.toMatchObject({
      code: 'not-valid',
    });
    expect(await db().placement.count({ where: { materialId: first.id } })).toBe(0);
  });

  it.each([
    [
      'ethanol in liquid nitrogen',
      { preservation: { kind: 'ethanol', ethanolPercent: 95 } },
      -190,
      'freezes solid',
    ],
    ['a frozen vial in a refrigerator', {}, 4, 'needs -15 °C or colder'],
    [
      'RNA stabiliser on a warm shelf',
      { preservation: { kind: 'rna-stabiliser' } },
      21,
      'needs 8 °C or colder',
    ],
  ])('refuses %s', async (_, vial, targetTempC, sentence) => {
    const warm = await makeFreezer(db(), collectionId, { targetTempC });
    const made = await newVial(vial);
    await expect(put(preparator, made.id, warm.box.id, 'A1')).rejects.toMatchObject({
      code: 'not-valid',
      message: expect.stringContaining(sentence),
    });
  });

  it('refuses a full shelf, a unit out of use, and a place of another collection', async () => {
    const shelf = await makeUnit(db(), collectionId, {
      parentId: cold.freezer.id,
      kind: 'shelf',
      capacity: 1,
    });
    const [first, second] = [await newVial(), await newVial()];
    await put(preparator, first.id, shelf.id);
    await expect(put(preparator, second.id, shelf.id)).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('is full: it takes 1'),
    });
    const other = await makeFreezer(db(), await makeCollection(db()));
    await expect(put(preparator, second.id, other.box.id, 'A1')).rejects.toMatchObject({ code: 'not-found' });
    const closed = await makeUnit(db(), collectionId, { parentId: cold.freezer.id, kind: 'shelf' });
    await db().storageUnit.update({ where: { id: closed.id }, data: { active: false } });
    await expect(put(preparator, second.id, closed.id)).rejects.toMatchObject({ code: 'not-valid' });
  });

  it('respects custody: what is out on loan must come back first; what was missing counts as found', async () => {
    const [lent, lost] = [await newVial(), await newVial()];
    await put(preparator, lent.id, cold.box.id, 'E1');
    await withTx(contextOf(preparator), async (work) => {
      await changeCustody(work, { materialId: lent.id, from: 'on-shelf', to: 'on-loan' });
    });
    await expect(put(preparator, lent.id, cold.box.id, 'E1')).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('out on loan'),
    });
    const box = await showUnit(preparator, cold.box.id);
    expect(box.away).toMatchObject([{ label: lent.label, look: 'on-loan', position: 'E1', index: 36 }]);

    await withTx(contextOf(preparator), async (work) => {
      await changeCustody(work, { materialId: lost.id, from: 'on-shelf', to: 'missing' });
    });
    const { materials } = await put(preparator, lost.id, cold.box.id, 'E2');
    expect(materials).toMatchObject([{ custody: 'on-shelf', position: 'E2' }]);
  });

  it('lets a volunteer move their own work only, and nobody without the right', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    const bird = await makeBird(db(), collectionId, {
      birdState: 'claimed',
      claimedById: volunteer.personId ?? '',
    });
    const own = (await makeVials(db(), volunteer, [{}], { birdId: bird.id })).vials[0];
    const foreign = await newVial();
    await put(volunteer, own?.id ?? '', cold.box.id, 'F1');
    await expect(put(volunteer, foreign.id, cold.box.id, 'F2')).rejects.toMatchObject({ code: 'forbidden' });
    const officer = await makeActor(db(), collectionId, 'permit-officer');
    await expect(put(officer, foreign.id, cold.box.id, 'F2')).rejects.toMatchObject({ code: 'forbidden' });
    const { version } = await showUnit(preparator, cold.box.id);
    await expect(
      moveUnit(contextOf(volunteer), cold.box.id, { parentId: cold.rack.id, version }),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });
});

describe('a box moves with all it holds in one act', () => {
  it('takes its vials along, rewrites the paths, classes them anew and tells each bird', async () => {
    const from = await makeFreezer(db(), collectionId, { name: 'Freezer C' });
    const to = await makeFreezer(db(), collectionId, {
      name: 'Freezer D',
      targetTempC: -25,
      alarmAboveC: -15,
    });
    const { vials } = await makeVials(db(), preparator, [
      { position: { unitId: from.box.id, position: 'A1' }, amount: null },
      { position: { unitId: from.box.id, position: 'A2' }, preservation: { kind: 'frozen' } },
    ]);
    await db().vial.updateMany({
      where: { materialId: { in: vials.map((vial) => vial.id) } },
      data: { origin: 'fresh' },
    });
    const { version } = await showUnit(preparator, from.box.id);
    const moved = await moveUnit(contextOf(preparator), from.box.id, {
      parentId: to.rack.id,
      version,
      reason: 'defrosting',
    });
    expect(moved.path).toBe(`${to.rack.path} › Box 1`);
    expect(moved.occupants.map((one) => one.position)).toEqual(['A1', 'A2']);
    for (const vial of vials) {
      const { moves } = await listMoves(preparator, vial.id);
      expect(moves[0]).toMatchObject({
        withUnit: true,
        from: expect.stringContaining('Freezer C'),
        to: expect.stringContaining('Freezer D'),
      });
    }
    expect(
      await db().vial.findMany({ where: { materialId: { in: vials.map((vial) => vial.id) } } }),
    ).toMatchObject([
      { storedAtC: -25, qualityClass: 3 },
      { storedAtC: -25, qualityClass: 3 },
    ]);
    const told = await db().auditEvent.findMany({
      where: { birdId: vials[0]?.birdId, kind: 'storage.moved-along' },
    });
    expect(told).toMatchObject([
      { reason: 'defrosting', payload: { materials: vials.map((vial) => vial.label) } },
    ]);
  });

  it('refuses a place that would not keep what is in it, a full rack, and a move on an old version', async () => {
    const from = await makeFreezer(db(), collectionId, {});
    await makeVials(db(), preparator, [{ position: { unitId: from.box.id, position: 'A1' } }]);
    const warm = await makeFreezer(db(), collectionId, { targetTempC: 4 });
    const { version } = await showUnit(preparator, from.box.id);
    const move = (parentId: string, seen = version) =>
      moveUnit(contextOf(preparator), from.box.id, { parentId, version: seen });
    await expect(move(warm.rack.id)).rejects.toMatchObject({
      code: 'not-valid',
      message: expect.stringContaining('-15 °C'),
    });
    await expect(move(cold.rack.id)).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('is full'),
    });
    await expect(move(from.rack.id, version + 1)).rejects.toMatchObject({ code: 'stale-version' });
    expect(await showUnit(preparator, from.box.id)).toMatchObject({ path: from.box.path });
  });

  it('never puts a unit into itself, even when two moves cross', async () => {
    const room = await makeUnit(db(), collectionId, { kind: 'room' });
    const cabinet = await makeUnit(db(), collectionId, { kind: 'cabinet', parentId: room.id });
    const [rack, drawer] = [
      await makeUnit(db(), collectionId, { kind: 'rack', parentId: cabinet.id }),
      await makeUnit(db(), collectionId, { kind: 'drawer', parentId: cabinet.id }),
    ];
    const results = await Promise.allSettled([
      moveUnit(contextOf(preparator), rack.id, { parentId: drawer.id, version: 1 }),
      moveUnit(contextOf(preparator), drawer.id, { parentId: rack.id, version: 1 }),
    ]);
    expect(results.map((result) => result.status).sort()).toEqual(['fulfilled', 'rejected']);
    await expect(showTree(preparator)).resolves.toBeDefined();
  });
});

describe('the tree', () => {
  const ask = (input: Record<string, unknown>) =>
    makeUnits(contextOf(preparator), makeUnitsRequest.parse(input));

  it('adds boxes in a row with names, codes and free positions of their own', async () => {
    const rack = await makeUnit(db(), collectionId, {
      kind: 'rack',
      parentId: cold.freezer.id,
      grid: { rows: 2, columns: 3, scheme: 'running-by-row' },
    });
    const first = await ask({ parentId: rack.id, kind: 'box', name: 'Box', grid: NINE, count: 2 });
    const second = await ask({ parentId: rack.id, kind: 'box', name: 'Box', grid: NINE, count: 3 });
    const all = [...first.units, ...second.units];
    expect(all.map((unit) => unit.name)).toEqual(['Box 1', 'Box 2', 'Box 3', 'Box 4', 'Box 5']);
    expect(all.map((unit) => unit.parentPosition)).toEqual(['1', '2', '3', '4', '5']);
    expect(new Set(all.map((unit) => unit.code)).size).toBe(5);
    await expect(
      ask({ parentId: rack.id, kind: 'box', name: 'Box', grid: NINE, count: 2 }),
    ).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('1 free positions'),
    });
  });

  it('refuses a code that is on something else already, and a box on the floor of a site', async () => {
    const vial = await newVial();
    await expect(
      ask({ parentId: cold.rack.id, kind: 'box', name: 'Box 9', code: vial.label }),
    ).rejects.toMatchObject({ code: expect.stringMatching(/not-valid|conflict/) });
    const site = await ask({ parentId: null, kind: 'site', name: 'Far house' });
    await expect(
      ask({ parentId: site.units[0]?.id, kind: 'box', name: 'Box 1', grid: NINE }),
    ).rejects.toMatchObject({ message: 'A box does not stand in a site.' });
  });

  it('changes settings with an eye on what lies there: grid, temperature, use', async () => {
    const place = await makeFreezer(db(), collectionId, { name: 'Freezer E' });
    const [vial] = (
      await makeVials(db(), preparator, [{ position: { unitId: place.box.id, position: 'I9' } }])
    ).vials;
    const change = (id: string, input: Record<string, unknown>) =>
      changeUnit(contextOf(preparator), id, changeUnitRequest.parse({ version: 1, ...input }));
    const small = { rows: 8, columns: 8, scheme: 'row-letter' };
    await expect(change(place.box.id, { grid: small })).rejects.toMatchObject({ code: 'conflict' });
    await expect(change(place.box.id, { active: false })).rejects.toMatchObject({
      message: expect.stringContaining('not empty'),
    });
    await expect(change(place.freezer.id, { targetTempC: 4 })).rejects.toMatchObject({
      message: expect.stringContaining('-15 °C'),
    });
    const renamed = await change(place.freezer.id, { name: 'Old freezer', targetTempC: -70 });
    expect(renamed).toMatchObject({ version: 2, name: 'Old freezer', targetTempC: -70, alarmAboveC: -60 });
    expect((await showUnit(preparator, place.box.id)).path).toContain('Old freezer › Rack 1 › Box 1');
    expect((await db().vial.findUniqueOrThrow({ where: { materialId: vial?.id } })).storedAtC).toBe(-70);
  });

  it('counts loads at every depth and shows nothing of another collection', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'curator');
    const place = await makeFreezer(db(), own, { boxes: 2 });
    await makeVials(db(), actor, [
      { position: { unitId: place.box.id, position: 'A1' } },
      { position: { unitId: place.boxes[1]?.id, position: 'A1' } },
    ]);
    const { units } = await showTree(actor);
    const of = (id: string) => units.find((unit) => unit.id === id);
    expect(of(place.freezer.id)).toMatchObject({ materials: 2, load: 1 });
    expect(of(place.box.id)).toMatchObject({ materials: 1, load: 1, places: 81 });
    await expect(showUnit(preparator, place.box.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});

describe('a scan finds what carries the code', () => {
  it('a unit, a vial by its own code, a material by its label, a bird, and says when nothing does', async () => {
    const vial = await newVial({ code: 'TUBE-000777' });
    await put(preparator, vial.id, cold.box.id, 'G1');
    expect(await findByCode(preparator, cold.box.code)).toMatchObject({
      found: 'unit',
      unit: { name: 'Box 1' },
    });
    expect(await findByCode(preparator, 'tube-000777')).toMatchObject({
      found: 'material',
      material: { label: vial.label, position: 'G1' },
    });
    expect(await findByCode(preparator, vial.label)).toMatchObject({
      found: 'material',
      material: { materialId: vial.id },
    });
    const bird = await makeBird(db(), collectionId);
    expect(await findByCode(preparator, bird.number)).toMatchObject({
      found: 'material',
      material: { kind: 'carcass' },
    });
    await db().material.updateMany({ where: { birdId: bird.id }, data: { custody: 'used-up' } });
    expect(await findByCode(preparator, bird.number)).toMatchObject({
      found: 'bird',
      bird: { number: bird.number },
    });
    await expect(findByCode(preparator, 'nobody knows this')).rejects.toMatchObject({ code: 'not-found' });
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    await expect(findByCode(stranger, vial.label)).rejects.toMatchObject({ code: 'not-found' });
  });
});
