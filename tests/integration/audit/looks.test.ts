import { beforeAll, describe, expect, it } from 'vitest';
import { listHistory, verifyChain } from '@/lib/audit/service';
import { showSheet } from '@/lib/catalogue/service/record';
import { approveRecord, showReview } from '@/lib/catalogue/service/review';
import { showBird } from '@/lib/desk/bird';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { Role } from '@/lib/platform/permissions';
import { showFind } from '@/lib/salvage/service/reading';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

let collectionId: string;
let curator: Actor;
let registrar: Actor;
type Made = Awaited<ReturnType<typeof makeInReview>>;
let falcon: Made;
let robin: Made;

const as = (role: Role) => makeActor(db(), collectionId, role);
const looks = (made: Made) =>
  db().auditEvent.findMany({
    where: { kind: 'audit.place-looked-at', birdId: made.bird.id },
    orderBy: { seq: 'asc' },
  });

beforeAll(async () => {
  collectionId = await makeCollection(db());
  [curator, registrar] = [await as('curator'), await as('registrar')];
  const preparator = await as('preparator');
  const gyr = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  const thrush = await makeTaxon(db(), { scientificName: 'Turdus migratorius' });
  falcon = await makeInReview(db(), preparator, { taxonId: gyr });
  robin = await makeInReview(db(), preparator, { taxonId: thrush });
});

describe('who was shown the exact place of a sensitive bird', () => {
  it('stands in its history, once a day for each person, whatever page they opened', async () => {
    const sheet = await showReview(curator, falcon.record.id);
    expect(sheet.origin.generalised).toBe(false);
    expect(await looks(falcon)).toMatchObject([
      { actorId: curator.personId, subjectType: 'salvage', subjectId: falcon.bird.salvageId },
    ]);
    await approveRecord(contextOf(curator), falcon.record.id, { version: 1, explanations: {} });
    await showFind(registrar, falcon.bird.salvageId);
    await showSheet(registrar, falcon.bird.id);
    await showSheet(registrar, falcon.bird.id);
    await showBird(registrar, falcon.bird.id);
    await showSheet(curator, falcon.bird.id);
    expect((await looks(falcon)).map(({ actorId }) => actorId)).toEqual([
      curator.personId,
      registrar.personId,
    ]);
    const { rows } = await listHistory(curator, { birdId: falcon.bird.id, size: 50 });
    const told = rows.filter(({ kind }) => kind === 'audit.place-looked-at');
    expect(told.map(({ actorName }) => actorName)).toEqual([registrar.name, curator.name]);
    expect(JSON.stringify(told.map(({ payload }) => payload))).toBe(
      JSON.stringify(Array(2).fill({ number: falcon.bird.number })),
    );
    expect(await verifyChain(collectionId)).toMatchObject({ ok: true });
  });

  it.each(['showSheet', 'showFind', 'showBird'] as const)('by %s alone, too', async (page) => {
    const reader = await as('registrar');
    const { id, salvageId } = falcon.bird;
    await { showSheet, showFind, showBird }[page](reader, page === 'showFind' ? salvageId : id);
    expect((await looks(falcon)).filter(({ actorId }) => actorId === reader.personId)).toHaveLength(1);
  });

  it('nobody stands there who was shown the county only, and no bird that is not sensitive', async () => {
    const before = (await looks(falcon)).length;
    for (const role of ['volunteer', 'visitor', 'administrator'] as const) {
      const sheet = await showSheet(await as(role), falcon.bird.id);
      expect(sheet.origin.generalised, role).toBe(true);
    }
    expect(await looks(falcon)).toHaveLength(before);
    await showSheet(registrar, robin.bird.id);
    await showFind(registrar, robin.bird.salvageId);
    await showBird(registrar, robin.bird.id);
    await showReview(curator, robin.record.id);
    expect(await looks(robin)).toEqual([]);
  });
});
