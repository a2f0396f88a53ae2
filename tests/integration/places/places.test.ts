import { beforeAll, describe, expect, it } from 'vitest';
import { placeRequest, placeToRead } from '@/lib/places/schema';
import { addPlace, changePlace, listPlaces, readWrittenPlace, showPlace } from '@/lib/places/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

let collectionId: string;
let registrar: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  registrar = await makeActor(db(), collectionId, 'registrar');
});

const columbus = { country: 'US', stateProvince: 'Ohio', county: 'Franklin' };
const library = (name: string, coordinates = '39°57\'40"N 82°59\'56"W') =>
  placeRequest.parse({ name, ...columbus, written: { coordinates, datum: 'WGS84' } });

describe('readWrittenPlace', () => {
  const read = (input: Parameters<typeof placeToRead.parse>[0]) =>
    readWrittenPlace(registrar, placeToRead.parse(input));

  it('reads degrees, minutes and seconds, names each term of the uncertainty and agrees with the county', async () => {
    const reading = await read({
      coordinates: '39°57\'40"N 82°59\'56"W',
      datum: 'WGS84',
      gps: { accuracyM: 10, recordedOn: '2025-04-03' },
      named: columbus,
    });
    // 39 + 57/60 + 40/3600 and 82 + 59/60 + 56/3600.
    expect(reading.point?.latitude).toBeCloseTo(39.961111, 6);
    expect(reading.point?.longitude).toBeCloseTo(-82.998889, 6);
    expect(reading.terms.map((term) => term.id)).toEqual(['precision', 'datum', 'gps']);
    const sum = reading.terms.reduce((total, term) => total + term.valueM, 0);
    expect(reading.uncertaintyM).toBe(Math.ceil(sum));
    expect(reading.agreement?.verdict).toBe('agrees');
  });

  it('says that a missing minus sign is likely, and does not set it', async () => {
    const reading = await read({ coordinates: '39.9611, 82.9989', named: columbus });
    expect(reading.agreement?.verdict).toBe('other-place');
    expect(reading.point).toEqual({ latitude: 39.9611, longitude: 82.9989 });
    expect(reading.suggestions).toContainEqual({ latitude: 39.9611, longitude: -82.9989 });
  });

  it('answers what cannot be read with why', async () => {
    const reading = await read({ coordinates: 'by the old mill', named: columbus });
    expect(reading).toMatchObject({ point: null, refusal: { code: 'unreadable' } });
  });

  it('walks a distance and heading from the named place', async () => {
    const reading = await read({
      coordinates: '39.96, -83.00',
      datum: 'WGS84',
      offset: { distance: '10', unit: 'km', heading: 'NE' },
      named: {},
    });
    expect(reading.terms.map((term) => term.id)).toContain('direction');
    expect(reading.point?.latitude).toBeGreaterThan(39.96);
    expect(reading.point?.longitude).toBeGreaterThan(-83);
  });
});

describe('named places', () => {
  it('keeps how the place was written beside what was made of it, with its event', async () => {
    const made = await addPlace(contextOf(registrar), library('Library, north door'));
    expect(made).toMatchObject({
      verbatimCoordinates: '39°57\'40"N 82°59\'56"W',
      datum: 'EPSG:4326',
      version: 1,
    });
    expect(made.uncertainty?.terms.length).toBeGreaterThan(0);
    const events = await db().auditEvent.findMany({ where: { subjectId: made.id } });
    expect(events.map((event) => event.kind)).toEqual(['places.added']);
    await expect(addPlace(contextOf(registrar), library('Library, north door'))).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('refuses coordinates it cannot read and says so at their field', async () => {
    await expect(addPlace(contextOf(registrar), library('Mill', 'by the mill'))).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'written.coordinates' }],
    });
  });

  it('retires a place, keeps its coordinates, and refuses an old version', async () => {
    const made = await addPlace(contextOf(registrar), library('Stadium'));
    const change = {
      ...placeRequest.parse({ name: 'Stadium', ...columbus }),
      active: false,
      version: 1,
      reason: 'torn down',
      keepCoordinates: true,
    };
    const changed = await changePlace(contextOf(registrar), made.id, change);
    expect(changed).toMatchObject({ active: false, latitude: made.latitude, version: 2 });
    await expect(changePlace(contextOf(registrar), made.id, change)).rejects.toMatchObject({
      code: 'stale-version',
    });
    const { rows } = await listPlaces(registrar, { q: 'stadium', shown: 'in-use', size: 10 });
    expect(rows).toEqual([]);
  });

  it('is not for volunteers to change, nor for another collection to see', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(addPlace(contextOf(volunteer), library('Pond'))).rejects.toMatchObject({
      code: 'forbidden',
    });
    const made = await addPlace(contextOf(registrar), library('Pond'));
    const stranger = await makeActor(db(), await makeCollection(db()), 'registrar');
    await expect(showPlace(stranger, made.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});
