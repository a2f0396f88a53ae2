import { parseCoordinates, parseLatitudeLongitude } from '@/lib/places/coordinates';
import { checkPlaceAgreement, suggestTranspositions } from '@/lib/places/counties';
import { standardiseDatum } from '@/lib/places/datums';
import { findMetresPerUnit } from '@/lib/places/distances';
import type { Point } from '@/lib/places/geodesy';
import {
  type CombinedUncertainty,
  GEOREFERENCE_PROTOCOL,
  georeferenceCoordinates,
  georeferenceOffset,
} from '@/lib/places/georeference';
import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import type { PlaceReading, PlaceToRead } from '@/lib/places/schema';
import { say } from '@/lib/platform/words/say';

export type { PlaceReading, PlaceToRead } from '@/lib/places/schema';

/**
 * Reads a place as written into decimal degrees, adds up its uncertainty with every term shown, and compares it with
 * the country, state and county named beside it. What can be read two ways comes back with its readings; nothing is
 * guessed, nothing is corrected.
 */
export function readPlace(place: PlaceToRead): PlaceReading {
  const written = place.coordinates.trim();
  const parsed =
    place.longitude === null ? parseCoordinates(written) : parseLatitudeLongitude(written, place.longitude);
  if (!parsed.ok) {
    const { code, message, readings } = parsed;
    return { ...EMPTY, verbatim: written, refusal: { code, message, readings } };
  }
  const { latitude, longitude, system, verbatim, precisionDegrees, gridSizeM, remarks } = parsed.value;
  const datum = place.datum.trim() === '' ? 'not recorded' : standardiseDatum(place.datum);
  const notes =
    datum === null
      ? [say('"{datum}" is no datum known here; it counts as not recorded.', { datum: place.datum })]
      : [];
  const centre = georeferenceCoordinates({
    latitude,
    precisionDegrees,
    gridSizeM,
    datumKnown: datum !== null && datum !== 'not recorded',
    ...(place.gps === null ? {} : { gps: place.gps }),
    ...(place.mapScaleDenominator === null ? {} : { mapScaleDenominator: place.mapScaleDenominator }),
    ...(place.extentM === null ? {} : { extentM: place.extentM }),
  });
  const reached = moveByOffset({ latitude, longitude }, centre, place.offset);
  if (!reached.ok) {
    const { code, message, readings } = reached;
    return { ...EMPTY, verbatim, refusal: { code, message, readings } };
  }
  const { point, uncertainty } = reached.value;
  const { verdict, message, distanceM, found } = checkPlaceAgreement(
    point,
    place.named,
    uncertainty.reportedM,
  );
  return {
    verbatim,
    point,
    system,
    datum: datum ?? 'not recorded',
    precisionDegrees,
    uncertaintyM: uncertainty.reportedM,
    terms: uncertainty.terms.map(({ id, label, valueM, formula }) => ({ id, label, valueM, formula })),
    formula: uncertainty.formula,
    protocol: GEOREFERENCE_PROTOCOL,
    remarks: [...remarks, ...notes],
    agreement: { verdict, message, distanceM, found },
    suggestions:
      verdict === 'other-place' || verdict === 'in-the-sea' ? suggestTranspositions(point, place.named) : [],
    refusal: null,
  };
}

const EMPTY: PlaceReading = {
  verbatim: '',
  point: null,
  system: null,
  datum: null,
  precisionDegrees: null,
  uncertaintyM: null,
  terms: [],
  formula: null,
  protocol: GEOREFERENCE_PROTOCOL,
  remarks: [],
  agreement: null,
  suggestions: [],
  refusal: null,
};

type Reached = { point: Point; uncertainty: CombinedUncertainty };

/** "10 km NE of it", where that was written; else the place itself. */
function moveByOffset(
  from: Point,
  centre: CombinedUncertainty,
  offset: PlaceToRead['offset'],
): Outcome<Reached> {
  if (offset === null) return accept({ point: from, uncertainty: centre });
  const metresPerUnit = findMetresPerUnit(offset.unit);
  if (metresPerUnit === null)
    return refuse('unreadable', say('"{unit}" is no unit of length known here.', { unit: offset.unit }));
  const moved = georeferenceOffset({
    from,
    fromTerms: centre.terms,
    distanceWritten: offset.distance,
    metresPerUnit,
    heading: offset.heading,
  });
  if (moved === null) {
    return refuse(
      'unreadable',
      say('"{distance} {unit} {heading}" is no distance with a heading such as NE or 45°.', {
        distance: offset.distance,
        unit: offset.unit,
        heading: offset.heading,
      }),
    );
  }
  const { point, ...uncertainty } = moved;
  return accept({ point, uncertainty });
}
