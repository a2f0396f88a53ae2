import { measureDegree } from '@/lib/places/geodesy';
import { LARGEST_UNCERTAINTY_M } from '@/lib/places/georeference';

/** Steps in degrees a sensitive place may be shared at; `none` withholds the coordinates altogether. */
export type GeneralisationStep = 1 | 0.1 | 0.01 | 'none';

/** About 11 km: the cell that shared places of protected birds are given at, on the map as in exports. */
export const SHARED_STEP = 0.1 satisfies GeneralisationStep;

/** The terms of a place that would give it away; all Darwin Core names. */
export const PLACE_TERMS_WITHHELD = [
  'locality',
  'verbatimLocality',
  'municipality',
  'verbatimCoordinates',
  'verbatimLatitude',
  'verbatimLongitude',
  'verbatimCoordinateSystem',
  'verbatimSRS',
  'footprintWKT',
  'georeferenceSources',
  'georeferenceRemarks',
  'minimumElevationInMeters',
  'maximumElevationInMeters',
  'verbatimElevation',
  'eventRemarks',
  'occurrenceRemarks',
  'verbatimLabel',
] as const;

export interface GeneralisedPlace {
  latitude: number | null;
  longitude: number | null;
  uncertaintyM: number | null;
  /** dwc:coordinatePrecision of what is shared. */
  coordinatePrecision: number | null;
  dataGeneralizations: string;
  informationWithheld: string;
}

function snapToCell(degrees: number, step: number, limit: number): number {
  const cells = Math.round((2 * limit) / step);
  const index = Math.min(cells - 1, Math.max(0, Math.floor((degrees + limit) / step + 1e-9)));
  return Number((-limit + (index + 0.5) * step).toFixed(6));
}

/**
 * Coordinates brought to the centre of a fixed grid cell, never moved at random. The new uncertainty reaches from
 * the centre to the farthest corner and adds what was uncertain before, so its circle always holds the true point.
 */
export function generalisePlace(
  place: { latitude: number; longitude: number; uncertaintyM: number | null },
  step: GeneralisationStep,
): GeneralisedPlace {
  const withheld =
    'Exact place and its description withheld to protect the taxon; ask the holding institution.';
  if (step === 'none') {
    return {
      latitude: null,
      longitude: null,
      uncertaintyM: null,
      coordinatePrecision: null,
      dataGeneralizations: 'Place given as county, state and country only.',
      informationWithheld: withheld,
    };
  }
  const latitude = snapToCell(place.latitude, step, 90);
  const longitude = snapToCell(place.longitude, step, 180);
  // A degree of longitude is longest at the corner nearer the equator, one of latitude at the corner farther away.
  const equatorward = measureDegree(Math.max(0, Math.abs(latitude) - step / 2));
  const poleward = measureDegree(Math.min(90, Math.abs(latitude) + step / 2));
  const corner = Math.hypot((poleward.latitudeM * step) / 2, (equatorward.longitudeM * step) / 2);
  return {
    latitude,
    longitude,
    uncertaintyM: Math.min(LARGEST_UNCERTAINTY_M, Math.ceil(corner + (place.uncertaintyM ?? 0))),
    coordinatePrecision: step,
    dataGeneralizations: `Coordinates given as the centre of a grid cell of ${step} degree.`,
    informationWithheld: withheld,
  };
}
