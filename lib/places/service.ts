import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { checkPlaceAgreement } from './counties';
import { placesEvents } from './events';
import { readPlace } from './read-place';
import { countBirds, findPlace, findPlaces, insertPlace, type PlaceColumns, updatePlace } from './repo';
import type {
  PlaceChange,
  PlaceListQuery,
  PlaceReading,
  PlaceRecord,
  PlaceRequest,
  PlaceToRead,
} from './schema';
import type { PlaceRow } from './wire-list';

/** What is understood of a place as written; the large outlines stay on the server. */
export async function readWrittenPlace(actor: Actor, place: PlaceToRead): Promise<PlaceReading> {
  authorise(actor, 'places.see');
  return readPlace(place);
}

export async function listPlaces(
  actor: Actor,
  query: PlaceListQuery,
): Promise<{ rows: PlaceRow[]; next: string | null; mayManage: boolean }> {
  authorise(actor, 'places.see');
  const { rows, next } = cutPage(await findPlaces(db(), actor.collectionId, query), query.size, (row) =>
    writeCursor([row.name]),
  );
  return { rows: rows.map(toRow), next, mayManage: may(actor, 'places.manage') };
}

/** Named places in use whose name, county or state has the text: for the forms of other stages. */
export async function searchPlaces(actor: Actor, q: string, size = 12): Promise<PlaceRow[]> {
  return (await listPlaces(actor, { q, shown: 'in-use', size })).rows;
}

/** A named place for a record that points to it, inside the caller's transaction; null when it is not there. */
export async function findPlaceFacts(tx: Tx, collectionId: string, id: string): Promise<PlaceRow | null> {
  const found = await findPlace(tx, collectionId, id);
  return found === null ? null : toRow(found);
}

export async function showPlace(actor: Actor, id: string): Promise<PlaceRecord> {
  authorise(actor, 'places.see');
  return loadRecord(db(), actor, id);
}

/** Adds a named place. @throws AppError not-valid when its coordinates cannot be read. */
export async function addPlace(context: CommandContext, request: PlaceRequest): Promise<PlaceRecord> {
  const { actor } = context;
  authorise(actor, 'places.manage');
  const columns = readColumns(request);
  return withTx(context, async (work) => {
    const made = await insertPlace(work.db, actor.collectionId, columns);
    const { name, latitude, longitude, uncertaintyM, verbatimCoordinates } = columns;
    work.audit(
      placesEvents.make(
        'places.added',
        { subjectType: 'place', subjectId: made.id },
        { name, latitude, longitude, uncertaintyM, verbatimCoordinates },
      ),
    );
    return loadRecord(work.db, actor, made.id);
  });
}

/** Changes or retires a named place. Records that were made from it keep what they copied. */
export async function changePlace(
  context: CommandContext,
  id: string,
  { active, version, reason, keepCoordinates, ...request }: PlaceChange,
): Promise<PlaceRecord> {
  const { actor } = context;
  authorise(actor, 'places.manage');
  return withTx(context, async (work) => {
    const found = await findPlace(work.db, actor.collectionId, id);
    if (found === null) throw notFound(say('This place'));
    const before: PlaceColumns & { active: boolean } = { ...pickColumns(found), active: found.active };
    const read = readColumns(keepCoordinates ? { ...request, written: null } : request);
    const wanted = {
      ...(keepCoordinates ? before : read),
      name: read.name,
      country: read.country,
      stateProvince: read.stateProvince,
      county: read.county,
      remarks: read.remarks,
      active,
    };
    if ((await updatePlace(work.db, id, version, wanted)) === 0)
      throw staleVersion(say('This place'), await loadRecord(work.db, actor, id));
    work.audit(
      placesEvents.make(
        'places.changed',
        { subjectType: 'place', subjectId: id, reason },
        { name: wanted.name, changes: differences(before, wanted) },
      ),
    );
    return loadRecord(work.db, actor, id);
  });
}

function readColumns({ written, remarks, ...names }: PlaceRequest): PlaceColumns {
  const none = {
    latitude: null,
    longitude: null,
    datum: null,
    uncertaintyM: null,
    uncertaintyDetail: null,
    verbatimCoordinates: null,
  };
  if (written === null || written.coordinates === '') return { ...names, remarks: remarks ?? null, ...none };
  const reading = readPlace({ ...written, named: names });
  if (reading.point === null) {
    const { message, readings } = reading.refusal ?? { message: say('They cannot be read.'), readings: [] };
    throw notValid(say('The place was not saved.'), [
      {
        path: 'written.coordinates',
        message:
          readings.length > 0
            ? say('{message} It may be {readings}.', { message, readings: readings.join(say(' or ')) })
            : message,
      },
    ]);
  }
  return {
    ...names,
    remarks: remarks ?? null,
    latitude: reading.point.latitude,
    longitude: reading.point.longitude,
    datum: reading.datum,
    uncertaintyM: reading.uncertaintyM,
    uncertaintyDetail: { terms: reading.terms, formula: reading.formula ?? '' },
    verbatimCoordinates: reading.verbatim,
  };
}

type Found = NonNullable<Awaited<ReturnType<typeof findPlace>>>;

const pickColumns = (row: Found): PlaceColumns => ({
  name: row.name,
  country: row.country,
  stateProvince: row.stateProvince,
  county: row.county,
  latitude: row.latitude,
  longitude: row.longitude,
  datum: row.datum,
  uncertaintyM: row.uncertaintyM,
  uncertaintyDetail: row.uncertaintyDetail as PlaceColumns['uncertaintyDetail'],
  verbatimCoordinates: row.verbatimCoordinates,
  remarks: row.remarks,
});

const toRow = (row: Found): PlaceRow => ({
  id: row.id,
  name: row.name,
  country: row.country,
  stateProvince: row.stateProvince,
  county: row.county,
  latitude: row.latitude,
  longitude: row.longitude,
  datum: row.datum,
  uncertaintyM: row.uncertaintyM,
  active: row.active,
});

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<PlaceRecord> {
  const found = await findPlace(tx, actor.collectionId, id);
  if (found === null) throw notFound(say('This place'));
  const { latitude, longitude } = found;
  const located = latitude !== null && longitude !== null;
  return {
    ...toRow(found),
    verbatimCoordinates: found.verbatimCoordinates,
    uncertainty: found.uncertaintyDetail as PlaceRecord['uncertainty'],
    agreement: located ? checkPlaceAgreement({ latitude, longitude }, found, found.uncertaintyM) : null,
    remarks: found.remarks,
    birds: await countBirds(tx, actor.collectionId, id),
    version: found.version,
    abilities: { change: may(actor, 'places.manage') },
  };
}
