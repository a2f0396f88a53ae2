import 'server-only';
import { notePlaceLook } from '@/lib/audit/public';
import {
  checkPlaceAgreement,
  locatePoint,
  parseCoordinates,
  suggestTranspositions,
} from '@/lib/places/public';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { countByState, findPageKeys, findPageRows } from '../repo/list';
import { findCollection, findLatestPlace, isSensitive } from '../repo/records';
import { nameSubdivision } from '../rules/subdivisions';
import type { SalvageRecord } from '../wire';
import type { SalvageListQuery, SalvagePage } from '../wire-list';
import type { PlaceCheckAnswer, PlaceCheckQuery } from '../wire-place';
import { loadRecord, toRow } from './shape';

/** Finds of the collection: what waits in triage first and longest, then what is settled, latest first. */
export async function listFinds(actor: Actor, query: SalvageListQuery): Promise<SalvagePage> {
  authorise(actor, 'salvage.see');
  const exactPlace = may(actor, 'place.exact');
  const [keys, counts] = await Promise.all([
    findPageKeys(actor.collectionId, query, exactPlace),
    countByState(actor.collectionId, query, exactPlace),
  ]);
  const { rows, next } = cutPage(keys, query.size, (key) => writeCursor([key.rank, key.age, key.id]));
  const found = new Map((await findPageRows(rows.map(({ id }) => id))).map((row) => [row.id, row]));
  return {
    rows: rows.flatMap(({ id }) => {
      const row = found.get(id);
      return row === undefined ? [] : [toRow(row)];
    }),
    next,
    counts: { reported: 0, 'in-triage': 0, accepted: 0, declined: 0, 'on-hold': 0, ...counts },
  };
}

export async function showFind(actor: Actor, id: string): Promise<SalvageRecord> {
  authorise(actor, 'salvage.see');
  const record = await loadRecord(db(), actor, id);
  const { birdId, number, taxonId, exactPlace } = record;
  if (exactPlace && (await isSensitive(db(), taxonId)))
    await notePlaceLook(actor, { salvageId: id, birdId, number });
  return record;
}

/** What a new report begins with: today, and the country and state of the latest find. */
export async function beginReport(
  actor: Actor,
): Promise<{ today: string; country: string; stateProvince: string }> {
  authorise(actor, 'salvage.log');
  const [{ timeZone }, latest] = await Promise.all([
    findCollection(db(), actor.collectionId),
    findLatestPlace(db(), actor.collectionId),
  ]);
  return {
    today: dayIn(timeZone, now()),
    country: latest?.country ?? '',
    stateProvince: latest?.stateProvince ?? '',
  };
}

/** Reads coordinates as written and says where they lie and whether that is the named county; keeps nothing. */
export async function checkPlace(actor: Actor, query: PlaceCheckQuery): Promise<PlaceCheckAnswer> {
  authorise(actor, 'salvage.log');
  const { coordinates, country = '', county = '', uncertaintyM = null } = query;
  const nothing = {
    latitude: null,
    longitude: null,
    readAs: null,
    located: null,
    agrees: false,
    message: null,
    suggestions: [],
  };
  let point = pointOf(query);
  let readAs: string | null = null;
  if (coordinates) {
    const read = parseCoordinates(coordinates);
    if (!read.ok) {
      const readings =
        read.readings.length > 0
          ? say(' It could be: {readings}.', { readings: read.readings.join('; ') })
          : '';
      return { ...nothing, problem: `${read.message}${readings}` };
    }
    point = { latitude: read.value.latitude, longitude: read.value.longitude };
    readAs = read.value.system;
  }
  if (point === null) return { ...nothing, problem: say('No coordinates were given.') };
  const named = {
    countryCode: country,
    stateProvince: nameSubdivision(country, query.stateProvince ?? ''),
    county,
  };
  const { verdict, message } = checkPlaceAgreement(point, named, uncertaintyM);
  const located = locatePoint(point);
  const agrees = verdict !== 'other-place' && verdict !== 'in-the-sea';
  return {
    ...point,
    readAs,
    problem: null,
    located:
      located === null
        ? null
        : { country: located.countryCode, stateProvince: located.state, county: located.county },
    agrees,
    message,
    suggestions: agrees ? [] : suggestTranspositions(point, named),
  };
}

const pointOf = ({ latitude, longitude }: PlaceCheckQuery) =>
  latitude === undefined || longitude === undefined ? null : { latitude, longitude };
