import { measureDegree, type Point, travelGeodesic } from '@/lib/places/geodesy';
import { say } from '@/lib/platform/words/say';

/**
 * Uncertainty of a place by the point-radius method. Formulas and the printed tables after: Chapman & Wieczorek,
 * Georeferencing Best Practices, and Zermoglio et al., Georeferencing Quick Reference Guide (2020, CC BY).
 */
export const GEOREFERENCE_PROTOCOL =
  'Chapman AD & Wieczorek JR (2020) Georeferencing Best Practices. https://doi.org/10.15468/doc-gg7h-s853';

/** Darwin Core takes no radius of zero and none beyond half the equator. */
export const LARGEST_UNCERTAINTY_M = 20_037_509;
/** Worst case anywhere for coordinates whose datum was not recorded. */
const UNKNOWN_DATUM_WORST_CASE_M = 5359;

export interface UncertaintyTerm {
  id: 'precision' | 'datum' | 'gps' | 'map' | 'distance' | 'direction' | 'grid' | 'extent' | 'survey-square';
  label: string;
  /** Metres this term adds; the direction adds an angle instead, so its metres are what the angle alone would do. */
  valueM: number;
  formula: string;
}

/** Uncertainty in metres from the step of coordinates as written: both half-axes, as the root of their squares. */
export function measurePrecision(
  latitude: number,
  precisionDegrees: number,
): UncertaintyTerm & { latitudeM: number; longitudeM: number } {
  const degree = measureDegree(latitude);
  const latitudeM = degree.latitudeM * precisionDegrees;
  const longitudeM = degree.longitudeM * precisionDegrees;
  return {
    id: 'precision',
    label: say('Coordinates as precise as they were written'),
    valueM: Math.hypot(latitudeM, longitudeM),
    formula: say('√({latitudeM}² + {longitudeM}²) m for a step of {precisionDegrees}°', {
      latitudeM: latitudeM.toFixed(1),
      longitudeM: longitudeM.toFixed(1),
      precisionDegrees,
    }),
    latitudeM,
    longitudeM,
  };
}

export function measureDatum(datumKnown: boolean, knownShiftM = UNKNOWN_DATUM_WORST_CASE_M): UncertaintyTerm {
  return datumKnown
    ? { id: 'datum', label: say('Datum recorded'), valueM: 0, formula: '0' }
    : { id: 'datum', label: say('Datum not recorded'), valueM: knownShiftM, formula: `${knownShiftM} m` };
}

/** A reported accuracy counts twice; unknown accuracy is 30 m, before selective availability ended 100 m. */
export function measureGps(accuracyM: number | null, recordedOn: string | null): UncertaintyTerm {
  if (accuracyM !== null) {
    return {
      id: 'gps',
      label: say('Satellite receiver'),
      valueM: 2 * accuracyM,
      formula: say('2 × {accuracyM} m as reported', { accuracyM }),
    };
  }
  const modern = recordedOn !== null && recordedOn >= '2000-05-01';
  const valueM = modern ? 30 : 100;
  const when = modern ? say('on or after 2000-05-01') : say('before 2000-05-01 or at an unknown date');
  return {
    id: 'gps',
    label: say('Satellite receiver, accuracy not recorded'),
    valueM,
    formula: `${valueM} m ${when}`,
  };
}

/** Map error by the US National Map Accuracy Standards: 1/50 inch up to 1:20,000 and smaller, else 1/30 inch. */
export function measureMap(scaleDenominator: number): UncertaintyTerm {
  const inches = scaleDenominator > 20_000 ? 50 : 30;
  const valueM = (scaleDenominator * 0.0254) / inches;
  return {
    id: 'map',
    label: say('Map 1:{scaleDenominator}', { scaleDenominator }),
    valueM,
    formula: say('1/{inches} inch × {scaleDenominator}', { inches, scaleDenominator }),
  };
}

/** Half the diagonal of a grid square. */
export function measureGrid(sideM: number): UncertaintyTerm {
  return {
    id: 'grid',
    label: say('Grid square of {sideM} m', { sideM }),
    valueM: sideM / Math.SQRT2,
    formula: `${sideM} m / √2`,
  };
}

const SURVEY_SIDES_MILES = {
  township: 6,
  section: 1,
  'quarter section': 0.5,
  'quarter of a quarter section': 0.25,
};
export type SurveySquare = keyof typeof SURVEY_SIDES_MILES;

/** Half the diagonal of a square of the US Public Land Survey System, nominal sides, from its centre. */
export function measureSurveySquare(square: SurveySquare): UncertaintyTerm {
  const miles = SURVEY_SIDES_MILES[square];
  const valueM = (miles * 1609.344) / Math.SQRT2;
  return {
    id: 'survey-square',
    label: say('Public land survey {square}', { square }),
    valueM,
    formula: say('{miles} mi / √2', { miles }),
  };
}

export function measureExtent(radiusM: number): UncertaintyTerm {
  return {
    id: 'extent',
    label: say('Extent of the named place'),
    valueM: radiusM,
    formula: say('{radiusM} m from its centre to its far edge', { radiusM }),
  };
}

/**
 * How far a distance as written may be off, in its own unit: half its step. Halves and quarters are read as such
 * (10.5, 10.25); round numbers keep at least two figures (100 is ±5, 1000 is ±50). After the guide's table.
 */
export function findDistanceStep(written: string): number {
  const [whole = '', fraction = ''] = written.trim().split('.');
  if (fraction.replace(/0+$/, '') === '5') return fraction === '5' ? 0.25 : 0.5 * 10 ** -fraction.length;
  if (fraction === '25' || fraction === '75') return 0.125;
  if (fraction !== '') return 0.5 * 10 ** -fraction.length;
  const digits = whole.replace(/^[+-]?0*/, '');
  const zeros = /0*$/.exec(digits)?.[0].length ?? 0;
  return 0.5 * 10 ** Math.max(0, Math.min(zeros, digits.length - 2));
}

function measureDistanceStep(written: string, metresPerUnit: number): UncertaintyTerm {
  const step = findDistanceStep(written);
  const valueM = step * metresPerUnit;
  return { id: 'distance', label: `Distance "${written}"`, valueM, formula: `±${step} × ${metresPerUnit} m` };
}

const COMPASS = [
  'N',
  'NNE',
  'NE',
  'ENE',
  'E',
  'ESE',
  'SE',
  'SSE',
  'S',
  'SSW',
  'SW',
  'WSW',
  'W',
  'WNW',
  'NW',
  'NNW',
];

/** Azimuth in degrees of a compass point and how far it may be off to each side (N 45, NE 22.5, NNE 11.25). */
export function readHeading(heading: string): { azimuthDegrees: number; halfAngleDegrees: number } | null {
  const point = heading.trim().toUpperCase();
  const index = COMPASS.indexOf(point);
  if (index >= 0)
    return { azimuthDegrees: index * 22.5, halfAngleDegrees: [45, 22.5, 11.25][point.length - 1] ?? 45 };
  const degrees = /^(\d{1,3})(?:°| ?deg(?:rees)?)?$/i.exec(heading.trim());
  const azimuthDegrees = Number(degrees?.[1]);
  return degrees && azimuthDegrees <= 360
    ? { azimuthDegrees: azimuthDegrees % 360, halfAngleDegrees: 0.5 }
    : null;
}

export interface CombinedUncertainty {
  uncertaintyM: number;
  /** The value for dwc:coordinateUncertaintyInMeters: rounded up, at least 1; null beyond what the term takes. */
  reportedM: number | null;
  terms: UncertaintyTerm[];
  formula: string;
}

function combined(uncertaintyM: number, terms: UncertaintyTerm[], formula: string): CombinedUncertainty {
  // What binary fractions add to an exact number of metres must not push it up to the next one.
  const rounded = Math.max(1, Math.ceil(uncertaintyM - 1e-6));
  return { uncertaintyM, reportedM: rounded <= LARGEST_UNCERTAINTY_M ? rounded : null, terms, formula };
}

/** All terms at their worst together: the plain sum. */
export function combineWithoutDirection(terms: UncertaintyTerm[]): CombinedUncertainty {
  const sum = terms.reduce((total, term) => total + term.valueM, 0);
  return combined(sum, terms, `${terms.map((term) => term.valueM.toFixed(1)).join(' + ') || '0'} m`);
}

/**
 * A distance along a heading: e = √(d² + (d+δ)² − 2d(d+δ)cos θ), δ the sum of the other terms and θ half the
 * angle between neighbouring compass points (Wieczorek, Guo & Hijmans 2004, from memory).
 */
export function combineWithDirection(
  terms: UncertaintyTerm[],
  distanceM: number,
  halfAngleDegrees: number,
): CombinedUncertainty {
  const delta = terms.reduce((total, term) => total + term.valueM, 0);
  const theta = (halfAngleDegrees * Math.PI) / 180;
  const far = distanceM + delta;
  const uncertaintyM = Math.sqrt(
    Math.max(0, distanceM ** 2 + far ** 2 - 2 * distanceM * far * Math.cos(theta)),
  );
  const direction: UncertaintyTerm = {
    id: 'direction',
    label: say('Direction to ±{halfAngleDegrees}°', { halfAngleDegrees }),
    valueM: 2 * distanceM * Math.sin(theta / 2),
    formula: say('2 × {distanceM} m × sin({halfAngleDegrees}° / 2)', {
      distanceM: distanceM.toFixed(1),
      halfAngleDegrees,
    }),
  };
  const formula = say('√(d² + (d+δ)² − 2d(d+δ)cos θ), d {distanceM} m, δ {delta} m, θ {halfAngleDegrees}°', {
    distanceM: distanceM.toFixed(1),
    delta: delta.toFixed(1),
    halfAngleDegrees,
  });
  return combined(uncertaintyM, [...terms, direction], formula);
}

/** Two distances at right angles ("8 km E and 6 km N"): the sum of the terms counts along both axes. */
export function combineAtRightAngles(terms: UncertaintyTerm[]): CombinedUncertainty {
  const delta = terms.reduce((total, term) => total + term.valueM, 0);
  return combined(Math.SQRT2 * delta, terms, `√(δ² + δ²), δ ${delta.toFixed(1)} m`);
}

export interface CoordinateGeoreference {
  latitude: number;
  precisionDegrees: number | null;
  gridSizeM: number | null;
  datumKnown: boolean;
  /** Set when a satellite receiver gave the coordinates. */
  gps?: { accuracyM: number | null; recordedOn: string | null };
  mapScaleDenominator?: number;
  extentM?: number;
}

/** Uncertainty of coordinates somebody wrote down, every term shown. */
export function georeferenceCoordinates(input: CoordinateGeoreference): CombinedUncertainty {
  const terms: UncertaintyTerm[] = [];
  if (input.precisionDegrees !== null) terms.push(measurePrecision(input.latitude, input.precisionDegrees));
  if (input.gridSizeM !== null) terms.push(measureGrid(input.gridSizeM));
  terms.push(measureDatum(input.datumKnown));
  if (input.gps) terms.push(measureGps(input.gps.accuracyM, input.gps.recordedOn));
  if (input.mapScaleDenominator !== undefined) terms.push(measureMap(input.mapScaleDenominator));
  if (input.extentM !== undefined) terms.push(measureExtent(input.extentM));
  return combineWithoutDirection(terms);
}

export interface OffsetGeoreference {
  /** Centre of the named place and the uncertainty of that centre. */
  from: Point;
  fromTerms: UncertaintyTerm[];
  distanceWritten: string;
  metresPerUnit: number;
  heading: string;
}

/** "10 km NE of a place": the point reached and its uncertainty; null for a heading it does not know. */
export function georeferenceOffset(
  input: OffsetGeoreference,
): (CombinedUncertainty & { point: Point }) | null {
  const heading = readHeading(input.heading);
  const distanceM = Number(input.distanceWritten) * input.metresPerUnit;
  if (!heading || !Number.isFinite(distanceM) || distanceM <= 0) return null;
  const terms = [...input.fromTerms, measureDistanceStep(input.distanceWritten, input.metresPerUnit)];
  const point = travelGeodesic(input.from, heading.azimuthDegrees, distanceM);
  return { point, ...combineWithDirection(terms, distanceM, heading.halfAngleDegrees) };
}

/** Why an uncertainty cannot be written in dwc:coordinateUncertaintyInMeters; null when it can. */
export function checkUncertainty(uncertaintyM: number): string | null {
  if (!Number.isFinite(uncertaintyM)) return say('The uncertainty is no number.');
  if (uncertaintyM <= 0)
    return say('An uncertainty is larger than zero; leave it empty when it is not known.');
  return uncertaintyM > LARGEST_UNCERTAINTY_M
    ? say('The uncertainty is larger than half the equator.')
    : null;
}
