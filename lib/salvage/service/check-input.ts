import 'server-only';
import { checkPlaceAgreement, parseCoordinates, suggestTranspositions } from '@/lib/places/public';
import type { FieldProblem } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { findMember, findNamedPlace, findTaxon } from '../repo/records';
import { nameSubdivision } from '../rules/subdivisions';
import type { DateInterval, FindPlace } from '../schema';

type Days = { found: DateInterval; receivedOn: string };

/** Days that cannot be: nothing is found tomorrow, or received before it was found. */
export function findDayProblems({ found, receivedOn }: Days, today: string): FieldProblem[] {
  const problems: FieldProblem[] = [];
  if (found.latestOn > today) {
    problems.push({
      path: 'found.latestOn',
      message: say('{latestOn} has not come yet; today is {today}.', { latestOn: found.latestOn, today }),
    });
  }
  if (receivedOn > today) {
    problems.push({
      path: 'receivedOn',
      message: say('{receivedOn} has not come yet; today is {today}.', { receivedOn, today }),
    });
  }
  if (receivedOn < found.earliestOn) {
    problems.push({
      path: 'receivedOn',
      message: say('It cannot have come on {receivedOn}, before it was found on {earliestOn} or later.', {
        receivedOn,
        earliestOn: found.earliestOn,
      }),
    });
  }
  return problems;
}

/** A record is one individual; eggs, nests and feathers may come in numbers. */
export function findQuantityProblems(find: { specimenType: string; quantity: number }): FieldProblem[] {
  if (find.quantity === 1 || (find.specimenType !== 'whole-bird' && find.specimenType !== 'part')) return [];
  const message = say('Each bird gets a record and a number of its own; log the others one by one.');
  return [{ path: 'quantity', message }];
}

const round = (degrees: number) => Number(degrees.toFixed(5));

/** A place as it will be kept, or what is wrong with it. Coordinates are read as written and must lie in the county. */
export function readPlace(place: FindPlace): { place: FindPlace; problems: FieldProblem[] } {
  const stateProvince = nameSubdivision(place.country, place.stateProvince);
  let { latitude, longitude } = place;
  if (latitude === null && place.verbatimCoordinates !== null) {
    const read = parseCoordinates(place.verbatimCoordinates);
    if (!read.ok) {
      const readings =
        read.readings.length > 0
          ? say(' It could be: {readings}.', { readings: read.readings.join('; ') })
          : '';
      return {
        place,
        problems: [{ path: 'place.verbatimCoordinates', message: `${read.message}${readings}` }],
      };
    }
    latitude = read.value.latitude;
    longitude = read.value.longitude;
  }
  const kept = { ...place, stateProvince, latitude, longitude };
  if (latitude === null || longitude === null) return { place: kept, problems: [] };
  const named = { countryCode: place.country, stateProvince, county: place.county };
  const { verdict, message } = checkPlaceAgreement({ latitude, longitude }, named, place.uncertaintyM);
  if (verdict !== 'other-place' && verdict !== 'in-the-sea') return { place: kept, problems: [] };
  const [swap] = suggestTranspositions({ latitude, longitude }, named);
  const hint =
    swap === undefined
      ? ''
      : say(' Perhaps {round}, {round2} is meant.', {
          round: round(swap.latitude),
          round2: round(swap.longitude),
        });
  return { place: kept, problems: [{ path: 'place.verbatimCoordinates', message: `${message}${hint}` }] };
}

/** What is pointed at must be there, and of this collection. */
export async function findReferenceProblems(
  work: Work,
  refers: { taxonId?: string | null; placeId?: string | null; finderPersonId?: string | null },
): Promise<FieldProblem[]> {
  const { collectionId } = work.actor;
  const problems: FieldProblem[] = [];
  if (refers.taxonId && (await findTaxon(work.db, refers.taxonId)) === null) {
    problems.push({ path: 'taxonId', message: say('This taxon is not in the checklist; choose it again.') });
  }
  if (refers.placeId && (await findNamedPlace(work.db, collectionId, refers.placeId)) === null) {
    problems.push({ path: 'place.placeId', message: say('This named place is gone; choose it again.') });
  }
  if (refers.finderPersonId && (await findMember(work.db, collectionId, refers.finderPersonId)) === null) {
    problems.push({
      path: 'facts.finderPersonId',
      message: say('This person has no account in this collection.'),
    });
  }
  return problems;
}
