import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { advanceSkins, listSkins } from '@/lib/skins/service';
import { showMaterial } from '@/lib/storage/material-record';
import { proposePlaces } from '@/lib/storage/places';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeBenchBird, makeMaterial, makeUnit } from '@/seed/factories/prepared';

const DAY = 86_400_000;
let collectionId: string;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});

const ago = (days: number) => new Date(Date.now() - days * DAY);
const dayAgo = (days: number) => ago(days).toISOString().slice(0, 10);

async function makeSkin(
  input: { preparatorId?: string; kind?: string; taxonId?: string; daysAgo?: number } = {},
) {
  const bird = await makeBenchBird(db(), collectionId, {
    preparatorId: input.preparatorId ?? preparator.personId ?? '',
    taxonId: input.taxonId,
  });
  const kind = input.kind ?? 'skin';
  return makeMaterial(db(), {
    collectionId,
    birdId: bird.id,
    kind,
    state: kind === 'skin' ? 'pinned' : null,
    createdAt: ago(input.daysAgo ?? 0),
  });
}

const openStep = (materialId: string) => db().processStep.findFirst({ where: { materialId, endedAt: null } });
const latestStep = (materialId: string) =>
  db().processStep.findFirst({ where: { materialId }, orderBy: [{ startedAt: 'desc' }, { id: 'desc' }] });
const choose = async (...ids: string[]) =>
  Promise.all(
    ids.map(async (materialId) => ({ materialId, stepId: (await latestStep(materialId))?.id ?? null })),
  );
type Request = Omit<Parameters<typeof advanceSkins>[1], 'chosen'>;
const advance = async (ids: string[], request: Request, actor = preparator) =>
  advanceSkins(contextOf(actor), { chosen: await choose(...ids), ...request });

describe('skins on their way to the shelf', () => {
  it('are moved on together, one open step each, with method, note and due day', async () => {
    const [skin, wing] = [await makeSkin(), await makeSkin({ kind: 'wing' })];
    const { moved } = await advance([skin.id, wing.id], {
      to: 'drying',
      method: 'drying room',
      note: 'fan on',
    });
    expect(moved.map(({ state }) => state)).toEqual(['drying', 'drying']);
    for (const { id } of [skin, wing]) {
      expect((await db().material.findUniqueOrThrow({ where: { id } })).state).toBe('drying');
      const step = await openStep(id);
      expect(step).toMatchObject({ step: 'drying', method: 'drying room', note: 'fan on' });
      expect((step?.dueAt?.getTime() ?? 0) - (step?.startedAt.getTime() ?? 0)).toBeGreaterThan(20 * DAY);
    }
    const events = await db().auditEvent.findMany({ where: { subjectId: skin.id, kind: 'skins.moved-on' } });
    expect(events.map(({ payload, reason, birdId }) => [payload, reason, birdId])).toEqual([
      [
        expect.objectContaining({ from: 'pinned', to: 'drying', method: 'drying room' }),
        'fan on',
        skin.birdId,
      ],
    ]);
  });

  it('all or none: one that cannot go there keeps the others', async () => {
    const [ready, notReady] = [await makeSkin(), await makeSkin()];
    await advance([ready.id], { to: 'drying' });
    await advance([ready.id], { to: 'dry' });
    await expect(advance([ready.id, notReady.id], { to: 'pest-freeze' })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining('cannot go to pest freeze') }],
    });
    expect((await openStep(ready.id))?.step).toBe('dry');
  });

  it('move once when two people press at once', async () => {
    const skin = await makeSkin();
    const chosen = await choose(skin.id);
    const results = await Promise.allSettled(
      Array.from({ length: 6 }, () => advanceSkins(contextOf(preparator), { chosen, to: 'drying' })),
    );
    expect(results.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const codes = results.flatMap((one) => (one.status === 'rejected' ? [one.reason.code] : []));
    expect(new Set(codes)).toEqual(new Set(['conflict']));
    expect(await db().processStep.count({ where: { materialId: skin.id } })).toBe(1);
  });

  it('are shelved with a place and after the pest freezer, or with a word why not', async () => {
    const skin = await makeSkin({ daysAgo: 40 });
    const drawer = await makeUnit(db(), collectionId);
    await advance([skin.id], { to: 'drying', doneOn: dayAgo(30) });
    await advance([skin.id], { to: 'dry', doneOn: dayAgo(10) });
    await advance([skin.id], { to: 'pest-freeze', doneOn: dayAgo(2), temperatureC: -22 });
    await expect(advance([skin.id], { to: 'shelved', note: 'no drawer' })).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('where it is put') }],
    });
    const place = { unitId: drawer };
    await expect(advance([skin.id], { to: 'shelved', place })).rejects.toMatchObject({
      fields: [{ message: expect.stringMatching(/needed 144 h.*Say in the note/) }],
    });
    await advance([skin.id], { to: 'shelved', place, note: 'Was treated with anoxia.' });
    const record = await showMaterial(preparator, skin.id);
    expect(record.state).toBe('shelved');
    expect(record.place?.unitId).toBe(drawer);
    expect(record.steps.map(({ state }) => state)).toEqual(['shelved', 'pest-freeze', 'dry', 'drying']);
    expect(record.steps.every(({ endedAt }) => endedAt !== null)).toBe(true);
    expect(record.steps.find(({ state }) => state === 'drying')?.days).toBe(20);
    expect(record.moves.map(({ to, reason }) => [to, reason])).toEqual([
      [expect.stringContaining('Drawer'), 'Shelved'],
    ]);

    const frozen = await makeSkin({ daysAgo: 40 });
    await advance([frozen.id], { to: 'drying', doneOn: dayAgo(30) });
    await advance([frozen.id], { to: 'dry', doneOn: dayAgo(20) });
    await advance([frozen.id], { to: 'pest-freeze', doneOn: dayAgo(8), temperatureC: -20 });
    await expect(advance([frozen.id], { to: 'shelved', place })).resolves.toMatchObject({
      moved: [{ state: 'shelved' }],
    });
  });

  it('are not begun in the future, nor before the step that ends', async () => {
    const skin = await makeSkin({ daysAgo: 9 });
    await advance([skin.id], { to: 'drying', doneOn: dayAgo(5) });
    await expect(advance([skin.id], { to: 'dry', doneOn: dayAgo(-2) })).rejects.toMatchObject({
      code: 'not-valid',
    });
    await expect(advance([skin.id], { to: 'dry', doneOn: dayAgo(7) })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'doneOn' }],
    });
    await expect(advance([skin.id], { to: 'dry', doneOn: dayAgo(5) })).resolves.toBeDefined();
  });

  it('show what is overdue first, also what nobody has begun', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'preparator');
    const made = async (daysAgo: number) => {
      const bird = await makeBenchBird(db(), own, { preparatorId: actor.personId ?? '' });
      return makeMaterial(db(), {
        collectionId: own,
        birdId: bird.id,
        kind: 'skin',
        state: 'pinned',
        createdAt: ago(daysAgo),
      });
    };
    const [fresh, old, late] = [await made(0), await made(5), await made(30)];
    const drying = await made(60);
    await advance([drying.id], { to: 'drying', doneOn: dayAgo(30) }, actor);
    const { groups } = await listSkins(actor, { size: 50 });
    const pinned = groups.find(({ state }) => state === 'pinned');
    expect(pinned).toMatchObject({ total: 3, overdue: 2 });
    expect(pinned?.rows.map(({ id }) => id)).toEqual([late.id, old.id, fresh.id]);
    expect(pinned?.rows.map(({ stay }) => stay.overdueDays)).toEqual([28, 3, 0]);
    const [row] = groups.find(({ state }) => state === 'drying')?.rows ?? [];
    expect(row?.stay).toMatchObject({ daysIn: 30, status: 'overdue', overdueDays: 9, dueOn: dayAgo(9) });
    expect(groups.map(({ state }) => state)).not.toContain('shelved');

    const first = await listSkins(actor, { state: 'pinned', size: 2 });
    const rest = await listSkins(actor, { state: 'pinned', size: 2, after: first.groups[0]?.next ?? '' });
    expect(rest.groups[0]?.rows.map(({ id }) => id)).toEqual([fresh.id]);
    expect(rest.groups[0]?.next).toBeNull();
    expect((await listSkins(actor, { size: 50, q: 'no such bird' })).groups[0]?.total).toBe(0);
    expect((await listSkins(preparator, { size: 200 })).groups[0]?.rows.map(({ id }) => id)).not.toContain(
      fresh.id,
    );
  });

  it('are moved on by those who work on them, and by bench staff', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    const [own, others] = [await makeSkin({ preparatorId: volunteer.personId ?? '' }), await makeSkin()];
    await expect(advance([own.id], { to: 'drying' }, volunteer)).resolves.toBeDefined();
    await expect(advance([own.id, others.id], { to: 'dry' }, volunteer)).rejects.toMatchObject({
      code: 'forbidden',
    });
    expect((await openStep(own.id))?.step).toBe('drying');
    const registrar = await makeActor(db(), collectionId, 'registrar');
    await expect(advance([own.id], { to: 'dry' }, registrar)).rejects.toMatchObject({ code: 'forbidden' });
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    await expect(advance([own.id], { to: 'dry' }, stranger)).rejects.toMatchObject({ code: 'not-found' });
    const carcass = await db().material.findFirstOrThrow({ where: { birdId: own.birdId, kind: 'carcass' } });
    await expect(advance([carcass.id], { to: 'drying' })).rejects.toMatchObject({ code: 'not-found' });
  });

  it('are proposed a place beside their relatives', async () => {
    const [wren, robin] = [
      await makeTaxon(db(), { scientificName: 'Troglodytes aedon' }),
      await makeTaxon(db(), { scientificName: 'Turdus migratorius' }),
    ];
    const [wrens, robins, full] = [
      await makeUnit(db(), collectionId, { name: 'Wrens' }),
      await makeUnit(db(), collectionId, { name: 'Robins' }),
      await makeUnit(db(), collectionId, { name: 'Full', capacity: 1 }),
    ];
    const shelve = async (taxonId: string, unitId: string) => {
      const skin = await makeSkin({ taxonId });
      await db().material.update({ where: { id: skin.id }, data: { state: 'shelved' } });
      await db().placement.create({ data: { materialId: skin.id, unitId } });
    };
    await shelve(wren, wrens);
    await shelve(wren, full);
    for (const _ of [1, 2, 3]) await shelve(robin, robins);
    const skin = await makeSkin({ taxonId: wren });
    const { proposals, found } = await proposePlaces(preparator, { ids: [skin.id], q: 'robins' });
    expect(proposals[0]).toMatchObject({
      unitId: wrens,
      reason: '1 skin of Troglodytes aedon lies here.',
    });
    expect(proposals.findIndex(({ unitId }) => unitId === full)).toBe(proposals.length - 1);
    expect(found.map(({ unitId }) => unitId)).toEqual([robins]);
  });
});
