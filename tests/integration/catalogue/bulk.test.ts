import { beforeAll, describe, expect, it } from 'vitest';
import { determineBirds } from '@/lib/catalogue/service/record';
import { approveRecord } from '@/lib/catalogue/service/review';
import { findLendable } from '@/lib/loans/service/ask';
import { followBirds } from '@/lib/notices/service/following';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

let curator: Actor;
let volunteer: Actor;
let first: string;
let second: string;
let elsewhere: string;
let taxonId: string;

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  curator = await makeActor(db(), collectionId, 'curator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  taxonId = await makeTaxon(db(), { scientificName: 'Turdus pilaris' });
  first = (await makeBird(db(), collectionId, { taxonId })).id;
  second = (await makeBird(db(), collectionId, { taxonId })).id;
  elsewhere = (await makeBird(db(), await makeCollection(db()), { taxonId })).id;
});

const request = () => ({
  verbatim: 'T. pilaris',
  taxonId,
  qualifier: null,
  determinedBy: 'A visiting ornithologist',
  determinedOn: '2025-06-01',
});

describe('one act on several birds', () => {
  it('identifies each in its own transaction and says which could not be, and why', async () => {
    await determineBirds(contextOf(curator), { ...request(), birdIds: [first] });
    const { rows } = await determineBirds(contextOf(curator), {
      ...request(),
      birdIds: [first, elsewhere, second, second],
    });
    expect(rows).toEqual([
      { id: first, problem: 'That is its current identification already.' },
      { id: elsewhere, problem: expect.stringContaining('This bird was not found') },
      { id: second, problem: null },
    ]);
    const found = await db().determination.findMany({
      where: { birdId: { in: [first, second, elsewhere] } },
    });
    expect(found.map(({ birdId }) => birdId).sort()).toEqual([first, second].sort());
    const events = await db().auditEvent.count({
      where: { kind: 'catalogue.determined', birdId: { in: [first, second, elsewhere] } },
    });
    expect(events).toBe(2);
  });

  it('a row with a day to come changes nothing in any of them', async () => {
    const { rows } = await determineBirds(contextOf(curator), {
      ...request(),
      determinedOn: '2999-01-01',
      birdIds: [first, second],
    });
    for (const { problem } of rows) expect(problem).toContain('That day has not come yet.');
    expect(await db().determination.count({ where: { birdId: { in: [first, second] } } })).toBe(2);
  });

  it('follows and stops, a repeated delivery included', async () => {
    const birdIds = [first, second, elsewhere];
    const told = async (follow: boolean) => {
      const idempotency = {
        key: `${follow}`,
        route: 'POST /api/notices/follow/birds',
        bodyDigest: `${follow}`,
      };
      const { rows } = await followBirds({ ...contextOf(volunteer), idempotency }, { birdIds, follow });
      return rows.map(({ problem }) => problem === null);
    };
    const followed = () =>
      db().follow.count({ where: { personId: volunteer.personId ?? '', stoppedAt: null } });
    expect(await told(true)).toEqual([true, true, false]);
    expect(await told(true)).toEqual([true, true, false]);
    expect(await followed()).toBe(2);
    expect(await told(false)).toEqual([true, true, false]);
    expect(await followed()).toBe(0);
  });

  it('is refused as a whole to those who may not do it at all', async () => {
    await expect(
      determineBirds(contextOf(volunteer), { ...request(), birdIds: [first] }),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('offers the materials of the chosen birds for a loan, and says of each why it cannot go', async () => {
    const preparator = await makeActor(db(), curator.collectionId, 'preparator');
    const made = await makeInReview(db(), preparator, { taxonId });
    await approveRecord(contextOf(curator), made.record.id, { version: 1, explanations: {} });
    const { materials } = await findLendable(curator, {
      birds: [made.bird.id, first, elsewhere],
      kind: 'loan',
    });
    expect(new Set(materials.map(({ birdId }) => birdId))).toEqual(new Set([made.bird.id, first]));
    for (const { birdId, problems } of materials) expect(problems.length > 0, birdId).toBe(birdId === first);
  });
});
