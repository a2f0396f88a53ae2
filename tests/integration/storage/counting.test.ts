import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { changeCustody } from '@/lib/storage/materials';
import {
  addScans,
  closeCount,
  listCounts,
  openCount,
  resolveFinding,
  showCount,
} from '@/lib/storage/service/inventory';
import { proposeSpace } from '@/lib/storage/service/space';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeFreezer, makeVials } from '@/seed/factories/storage';

let collectionId: string;
let one: Actor;
let two: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  one = await makeActor(db(), collectionId, 'preparator');
  two = await makeActor(db(), collectionId, 'registrar');
});

const scan = (code: string, unitId: string, position?: string, second = 0) => ({
  id: randomUUID(),
  code,
  unitId,
  position,
  scannedAt: new Date(Date.UTC(2026, 2, 5, 12, 0, second)).toISOString(),
});

async function stockBoxes() {
  const { freezer, boxes } = await makeFreezer(db(), collectionId, { boxes: 2 });
  const [first, second] = boxes;
  if (first === undefined || second === undefined) throw new Error('no boxes');
  const { vials } = await makeVials(db(), one, [
    { position: { unitId: first.id, position: 'A1' } },
    { position: { unitId: first.id, position: 'A2' } },
    { position: { unitId: first.id, position: 'A3' } },
    { position: { unitId: second.id, position: 'A1' } },
  ]);
  const labels = vials.map((vial) => vial.label);
  const [a1 = '', a2 = '', a3 = '', b1 = ''] = labels;
  return { freezer, first, second, vials, a1, a2, a3, b1 };
}

describe('counting what is there', () => {
  it('two people count one freezer; their scans merge, sent twice they count once', async () => {
    const { freezer, first, second, a1, a2, b1 } = await stockBoxes();
    const count = await openCount(contextOf(one), freezer.id);
    const joined = await openCount(contextOf(two), freezer.id);
    expect(joined.id).toBe(count.id);
    const mine = [scan(a1, first.id, 'A1', 1), scan(a2, first.id, undefined, 2)];
    const theirs = [scan(b1, second.id, 'A1', 1)];
    await Promise.all([
      addScans(contextOf(one), count.id, { scans: mine }),
      addScans(contextOf(two), count.id, { scans: theirs }),
    ]);
    const again = await addScans(contextOf(one), count.id, { scans: mine });
    expect(again).toMatchObject({ expected: 4, seen: 3, confirmed: 3, scans: 3, findings: [] });
    expect(again.people.map((person) => person.scans).sort()).toEqual([1, 2]);
  });

  it('finds what is missing, misplaced, unexpected and unknown, and each is put right by one press', async () => {
    const { freezer, first, second, vials, a1, a2, a3, b1 } = await stockBoxes();
    const elsewhere = await stockBoxes();
    const count = await openCount(contextOf(one), freezer.id);
    await addScans(contextOf(one), count.id, {
      scans: [
        scan(a1, first.id, 'A1', 1),
        scan(a2, second.id, 'C3', 2),
        scan(b1, second.id, 'A1', 3),
        scan(elsewhere.a1, first.id, 'H8', 4),
        scan('XX-99', first.id, 'H9', 5),
      ],
    });
    const closed = await closeCount(contextOf(two), count.id);
    expect(closed.outcome).toEqual({
      expected: 4,
      confirmed: 2,
      missing: 1,
      misplaced: 1,
      unexpected: 2,
      shared: 0,
    });
    expect(closed.findings).toEqual([
      expect.objectContaining({
        kind: 'misplaced',
        label: a2,
        found: { unitId: second.id, place: `${second.path} › C3` },
      }),
      expect.objectContaining({ kind: 'missing', label: a3 }),
      expect.objectContaining({
        kind: 'unexpected',
        label: elsewhere.a1,
        book: `${elsewhere.first.path} › A1`,
        mayRecord: true,
      }),
      expect.objectContaining({
        kind: 'unexpected',
        label: 'XX-99',
        materialId: null,
        book: null,
        mayRecord: false,
      }),
    ]);

    const resolve = (materialId: string | undefined, act: 'mark-missing' | 'record-where-found') =>
      resolveFinding(contextOf(two), count.id, { materialId: materialId ?? '', act });
    await resolve(vials[1]?.id, 'record-where-found');
    await resolve(elsewhere.vials[0]?.id, 'record-where-found');
    const left = await resolve(vials[2]?.id, 'mark-missing');
    expect(left.findings.map((finding) => finding.kind)).toEqual(['unexpected']);
    await expect(resolve(vials[2]?.id, 'mark-missing')).rejects.toMatchObject({ code: 'conflict' });
    expect(await db().material.findUniqueOrThrow({ where: { id: vials[2]?.id } })).toMatchObject({
      custody: 'missing',
      state: 'lost',
    });
    expect(await db().placement.findUniqueOrThrow({ where: { materialId: vials[1]?.id } })).toMatchObject({
      unitId: second.id,
      position: 'C3',
    });
    const [row] = (await listCounts(one)).rows.filter((session) => session.id === count.id);
    expect(row?.outcome).toMatchObject({ missing: 1 });
  });

  it('what turns up again counts as found; what is out on loan is left to the registrar', async () => {
    const { freezer, first, vials, a1, a2 } = await stockBoxes();
    await withTx(contextOf(one), async (work) => {
      await changeCustody(work, { materialId: vials[0]?.id ?? '', from: 'on-shelf', to: 'missing' });
      await changeCustody(work, { materialId: vials[1]?.id ?? '', from: 'on-shelf', to: 'on-loan' });
    });
    const count = await openCount(contextOf(one), freezer.id);
    const running = await addScans(contextOf(one), count.id, {
      scans: [scan(a1, first.id, 'D4', 1), scan(a2, first.id, 'D5', 2)],
    });
    expect(running.findings).toEqual([
      expect.objectContaining({ label: a1, book: 'missing', mayRecord: true }),
      expect.objectContaining({ label: a2, book: expect.stringContaining('out on loan'), mayRecord: false }),
    ]);
    await resolveFinding(contextOf(one), count.id, {
      materialId: vials[0]?.id ?? '',
      act: 'record-where-found',
    });
    expect(await db().material.findUniqueOrThrow({ where: { id: vials[0]?.id } })).toMatchObject({
      custody: 'on-shelf',
    });
    await expect(
      resolveFinding(contextOf(one), count.id, { materialId: vials[1]?.id ?? '', act: 'record-where-found' }),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('out on loan') });
  });

  it('takes nothing that is not right: a box outside, a position that is none, a closed count, a wrong role', async () => {
    const { freezer, first, a1 } = await stockBoxes();
    const elsewhere = await stockBoxes();
    const count = await openCount(contextOf(one), freezer.id);
    const send = (actor: Actor, ...scans: ReturnType<typeof scan>[]) =>
      addScans(contextOf(actor), count.id, { scans });
    await expect(
      send(one, scan(a1, first.id, 'A1'), scan(a1, elsewhere.first.id, 'A1')),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'scans.1.unitId' }],
    });
    await expect(send(one, scan(a1, first.id, 'K7'))).rejects.toMatchObject({
      fields: [{ path: 'scans.0.position' }],
    });
    expect((await showCount(one, count.id)).scans).toBe(0);
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(openCount(contextOf(volunteer), freezer.id)).rejects.toMatchObject({ code: 'forbidden' });
    await closeCount(contextOf(one), count.id);
    await expect(send(one, scan(a1, first.id, 'A1'))).rejects.toMatchObject({ code: 'conflict' });
    await expect(closeCount(contextOf(one), count.id)).rejects.toMatchObject({ code: 'conflict' });
  });
});

describe('finding space', () => {
  it('proposes free positions in boxes of different freezers, and says when there are none', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'preparator');
    const a = await makeFreezer(db(), own, { name: 'A' });
    const b = await makeFreezer(db(), own, { name: 'B' });
    await makeFreezer(db(), own, { name: 'Warm', targetTempC: 4 });
    await makeVials(db(), actor, [{ position: { unitId: a.box.id, position: 'A1' } }]);
    const proposal = await proposeSpace(actor, {
      text: '40 vials, two boxes, different freezers',
      preservation: 'frozen',
    });
    expect(proposal.isEven).toBe(true);
    expect(new Set(proposal.boxes.map((box) => box.boxId))).toEqual(new Set([a.box.id, b.box.id]));
    const inA = proposal.boxes.find((box) => box.boxId === a.box.id);
    expect(inA?.positions.slice(0, 2)).toEqual(['A2', 'A3']);
    expect(inA?.positions).toHaveLength(20);
    await expect(
      proposeSpace(actor, { text: '40 vials, three boxes, different freezers', preservation: 'frozen' }),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('no room') });
    await expect(proposeSpace(actor, { text: 'a few vials', preservation: 'frozen' })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'text' }],
    });
  });
});
