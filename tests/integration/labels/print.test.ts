import { beforeAll, describe, expect, it, vi } from 'vitest';
import { GET as check } from '@/app/api/labels/[kind]/check/route';
import { GET as print } from '@/app/api/labels/[kind]/route';
import { getLabelStock } from '@/lib/labels/public';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeFreezer, makeVials } from '@/seed/factories/storage';
import { labelArea, rasterise, readCodes } from '../../unit/labels/paper';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

let collectionId: string;
let preparator: Actor;
let volunteer: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db(), { name: 'Museum of the Long Valley' });
  preparator = await makeActor(db(), collectionId, 'preparator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
});

type Query = Record<string, string>;
const call = (route: typeof print, actor: Actor | null, kind: string, query: Query) => {
  signedIn.actor = actor;
  const request = new Request(`http://localhost/api/labels/${kind}?${new URLSearchParams(query)}`);
  return route(request, { params: Promise.resolve({ kind }) });
};

async function pdf(actor: Actor, kind: string, query: Query) {
  const answer = await call(print, actor, kind, query);
  expect(answer.headers.get('content-type')).toBe('application/pdf');
  return rasterise(new Uint8Array(await answer.arrayBuffer()), 300);
}

async function codesOn(actor: Actor, kind: string, stockId: string, query: Query, count: number) {
  const [page] = await pdf(actor, kind, { ...query, stock: stockId });
  if (page === undefined) throw new Error('no page');
  const codes = [];
  const first = Number(query.startAt ?? 1);
  for (let n = first; n < first + count; n += 1) {
    codes.push(...(await readCodes(page, labelArea(getLabelStock(stockId), n))).map((code) => code.text));
  }
  return { page, codes, text: page.text.replace(/\s+/g, ' ') };
}

describe('labels of records, printed and read back', () => {
  it('vials in the order asked for, from the label a half-used sheet begins with', async () => {
    const { vials } = await makeVials(db(), preparator, [
      {},
      { tissues: ['liver', 'toe-pad'], preservation: { kind: 'ethanol', ethanolPercent: 96 } },
      {},
    ]);
    const [a, b, c] = vials;
    const ids = [c?.id, a?.id, b?.id].join(',');
    const { codes, text } = await codesOn(
      preparator,
      'vial-side',
      'letter-vials-33x13',
      { ids, startAt: '4' },
      3,
    );
    expect(codes).toEqual([c?.label, a?.label, b?.label]);
    expect(text).toContain('liver, toe pad, ethanol 96 %');
    expect(text).toContain('100 mg');
  }, 60_000);

  it('all that lies in a box, in the order of its positions; and the boxes of a rack', async () => {
    const { rack, box } = await makeFreezer(db(), collectionId, { name: 'Freezer A' });
    const { vials } = await makeVials(db(), preparator, [{ position: { unitId: box.id, position: 'B2' } }]);
    const more = await makeVials(db(), preparator, [{ position: { unitId: box.id, position: 'A2' } }]);
    const { codes } = await codesOn(volunteer, 'vial-side', 'letter-vials-33x13', { in: box.id }, 2);
    expect(codes).toEqual([more.vials[0]?.label, vials[0]?.label]);
    const shelf = await codesOn(volunteer, 'storage', 'letter-storage-66x25', { in: rack.id }, 1);
    expect(shelf.codes).toEqual([box.code]);
    expect(shelf.text).toContain('−80 °C');
    expect(shelf.text).toContain('Freezer A');
  }, 60_000);

  it('a carcass bag with its hold in large letters, also before there is a bird', async () => {
    const bird = await makeBird(db(), collectionId);
    await db().hold.create({
      data: { salvageId: bird.salvageId, kind: 'disease', reason: 'possible avian influenza' },
    });
    for (const id of [bird.id, bird.salvageId]) {
      const { codes, text } = await codesOn(preparator, 'carcass-bag', 'roll-100x50', { ids: id }, 1);
      expect(codes).toEqual([bird.number]);
      expect(text).toContain('ON HOLD: possible avian influenza');
    }
  }, 60_000);

  it('a specimen tag from the bench record; what the record lacks is named before printing', async () => {
    const bird = await makeBird(db(), collectionId, {
      birdState: 'prepared',
      claimedById: preparator.personId ?? '',
    });
    const held = (value: string | number | string[] | Record<string, string | number>) => ({
      value,
      unit: null,
      verbatim: null,
      method: null,
      at: '2026-03-06T10:00:00Z',
      by: 'x',
    });
    await db().bird.update({ where: { id: bird.id }, data: { sex: 'female' } });
    await db().benchRecord.create({
      data: {
        collectionId,
        birdId: bird.id,
        prepNumber: 'TP 7',
        styleId: 'whole-skeleton',
        preparatorId: preparator.personId ?? '',
        values: {
          massG: held(77.5),
          leftOvary: held({ lengthMm: 9, widthMm: 5 }),
          fat: held({ score: 2, scale: 'helms-drury-1960' }),
          stomachContents: held(['seeds', 'grit']),
          irisColour: held('dark brown'),
        },
      },
    });
    const { codes, text } = await codesOn(preparator, 'specimen-tag', 'a4-tags-90x40', { ids: bird.id }, 1);
    expect(codes).toEqual([bird.number]);
    for (const fact of [
      'Museum of the Long Valley',
      '♀',
      'left ovary 9 by 5 mm',
      '77.5 g',
      'fat 2 (Helms & Drury 1960',
      'iris dark brown',
      'stomach seeds, grit',
      'TP 7',
      '2025-04-03',
    ]) {
      expect(text).toContain(fact);
    }
    const answer = await call(check, preparator, 'specimen-tag', { ids: bird.id });
    const { labels, lacks } = (await answer.json()) as {
      labels: number;
      lacks: { label: string; facts: string[] }[];
    };
    expect(labels).toBe(1);
    expect(lacks).toEqual([
      { label: bird.number, facts: expect.arrayContaining(['coordinates', 'skull or bursa', 'moult']) },
    ]);
    expect(lacks[0]?.facts).not.toContain('mass');
  }, 60_000);

  it('says no exact place of a sensitive bird to those who may not see it', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Aquila chrysaetos', sensitive: true });
    const bird = await makeBird(db(), collectionId, { taxonId });
    const of = async (actor: Actor) =>
      (await codesOn(actor, 'carcass-bag', 'roll-100x50', { ids: bird.id }, 1)).text;
    expect(await of(preparator)).toContain('Below a window of a library');
    const generalised = await of(volunteer);
    expect(generalised).not.toContain('library');
    expect(generalised).toContain('Franklin');
  }, 60_000);
});

describe('what is refused', () => {
  const problem = async (actor: Actor | null, kind: string, query: Query) => {
    const answer = await call(print, actor, kind, query);
    return {
      status: answer.status,
      ...((await answer.json()) as { title: string; fields: { path: string; message: string }[] }),
    };
  };

  it('a label on which not everything fits: each is named, and nothing is printed', async () => {
    const name = 'Pseudonestor verylongspecificepithetthatneverends subspecificepithetthatisworse still';
    const taxonId = await makeTaxon(db(), { scientificName: name });
    const bird = await makeBird(db(), collectionId, { taxonId });
    const { vials } = await makeVials(db(), preparator, [{}, {}], { birdId: bird.id });
    const refused = await problem(preparator, 'vial-side', { ids: vials.map((vial) => vial.id).join(',') });
    expect(refused).toMatchObject({ status: 422, title: expect.stringContaining('Nothing was printed') });
    expect(refused.fields.map((field) => field.message.split(',')[0])).toEqual(
      vials.map((vial) => vial.label),
    );
  });

  it('a page that begins after its end, a stock of another kind, an id that is none of ours, no ids', async () => {
    const { vials } = await makeVials(db(), preparator, [{}]);
    const ids = vials[0]?.id ?? '';
    expect(await problem(preparator, 'vial-cap', { ids, startAt: '2' })).toMatchObject({
      status: 422,
      fields: [{ path: 'startAt' }],
    });
    expect(await problem(preparator, 'vial-cap', { ids, stock: 'a4-box-99x57' })).toMatchObject({
      status: 422,
      fields: [{ path: 'stock' }],
    });
    expect((await problem(preparator, 'vial-cap', {})).status).toBe(422);
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    expect((await problem(stranger, 'vial-cap', { ids })).status).toBe(404);
  });

  it('nobody signed in, and roles that print nothing', async () => {
    const bird = await makeBird(db(), collectionId);
    expect((await problem(null, 'carcass-bag', { ids: bird.id })).status).toBe(401);
    const visitor = await makeActor(db(), collectionId, 'visitor');
    expect((await problem(visitor, 'carcass-bag', { ids: bird.id })).status).toBe(403);
  });
});
