import { beforeEach, describe, expect, it } from 'vitest';
import { showTour } from '@/lib/desk/tour';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';

let collectionId: string;
let accessionId: string;

beforeEach(async () => {
  collectionId = await makeCollection(db());
  const registrar = await makeActor(db(), collectionId, 'registrar');
  const made = await db().accession.create({
    data: {
      collectionId,
      number: `ACC-${collectionId}`,
      kind: 'salvage',
      source: 'A front desk',
      receivedOn: new Date('2025-04-05'),
      createdById: contextOf(registrar).actor.personId ?? '',
    },
  });
  accessionId = made.id;
});

async function catalogue(number: string, approvedAt: string, { shelved = false, sensitive = false } = {}) {
  const taxonId = await makeTaxon(db(), sensitive ? { scientificName: 'Falco peregrinus', sensitive } : {});
  const bird = await makeBird(db(), collectionId, { taxonId, birdState: 'prepared' });
  await db().salvageRecord.update({ where: { id: bird.salvageId }, data: { accessionId } });
  const curator = await makeActor(db(), collectionId, 'curator');
  await db().catalogueEntry.create({
    data: {
      birdId: bird.id,
      collectionId,
      number,
      approvedAt: new Date(approvedAt),
      approvedById: curator.personId ?? '',
      approved: {},
    },
  });
  if (shelved)
    await db().material.create({
      data: { collectionId, birdId: bird.id, kind: 'skin', suffix: 'S', state: 'shelved' },
    });
  return bird.id;
}

describe('the tour', () => {
  it('is told without a bird where none is catalogued', async () => {
    const tour = await showTour(await makeActor(db(), collectionId, 'volunteer'));
    expect(tour.bird).toBeNull();
    expect(tour.life).toBeNull();
    expect(tour.stations.length).toBeGreaterThan(8);
  });

  it('follows the latest bird that stands on the shelf, never one of a sensitive taxon', async () => {
    await catalogue('B-1', '2026-01-01', { shelved: true });
    const latest = await catalogue('B-2', '2026-02-01', { shelved: true });
    await catalogue('B-3', '2026-03-01');
    await catalogue('B-4', '2026-04-01', { shelved: true, sensitive: true });
    const tour = await showTour(await makeActor(db(), collectionId, 'volunteer'));
    expect(tour.bird).toMatchObject({ name: 'B-2', href: `/birds/${latest}` });
    const facts = (id: string) => tour.stations.find((station) => station.id === id)?.facts;
    expect(facts('accessioned')).toMatchObject([{ label: expect.stringContaining('ACC-') }]);
    expect(facts('shelved')).toMatchObject([{ label: 'B-2-S' }]);
  });

  it('tells a visitor of no person, day or find, and offers only what a visitor may open', async () => {
    const id = await catalogue('B-5', '2026-02-01', { shelved: true });
    const tour = await showTour(await makeActor(db(), collectionId, 'visitor'));
    expect(tour.bird?.href).toBe(`/catalogue/${id}`);
    expect(tour.life).toBeNull();
    expect(tour.stations.flatMap(({ facts }) => facts)).toEqual([]);
    expect(tour.stations.flatMap(({ places }) => places.map((place) => place.id))).toEqual(['catalogue']);
  });

  it('follows no bird of another collection', async () => {
    await catalogue('B-6', '2026-02-01', { shelved: true });
    const elsewhere = await makeActor(db(), await makeCollection(db()), 'curator');
    expect((await showTour(elsewhere)).bird).toBeNull();
  });
});
