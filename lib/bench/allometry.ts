import { median } from 'd3-array';
import { phrases, say } from '@/lib/platform/words/say';

/**
 * Do wing, tail, tarsus and mass belong to one bird? Lengths grow with a power of the mass:
 * log10(length in mm) = a + b·log10(mass in g), with the spread of the species around the line.
 * Computed by least squares over the species means of AVONET (Tobias et al. 2022, Ecology Letters
 * 25:581–597; 11,004 species for wing and tail, 11,009 for tarsus; flightless placeholders left out).
 */
export const ALLOMETRY = {
  wingMm: { a: 1.43338, b: 0.344184, sd: 0.08692 },
  tailMm: { a: 1.42939, b: 0.257951, sd: 0.163 },
  tarsusMm: { a: 0.858275, b: 0.30579, sd: 0.146847 },
} as const;

export type AllometricLength = keyof typeof ALLOMETRY;
export type AllometricField = AllometricLength | 'massG';
export type AllometricMeasures = Partial<Record<AllometricField, number>>;

/** Spreads away from the line of all birds at which a length and the mass cannot both be right. */
export const MOST_SPREADS = 4;
/** Spreads that every length must be off, to the same side, before the mass is blamed. */
const SPREADS_TO_BLAME_MASS = 2;
/** Most by which one measure may leave the proportions of its own taxon: a quarter. Ours, no source. */
export const MOST_RATIO = 1.25;

const LENGTHS = Object.keys(ALLOMETRY) as AllometricLength[];
const LABELS: Record<AllometricField, string> = phrases({
  massG: 'Mass',
  wingMm: 'Wing',
  tailMm: 'Tail',
  tarsusMm: 'Tarsus',
});
const UNITS: Record<AllometricField, string> = { massG: 'g', wingMm: 'mm', tailMm: 'mm', tarsusMm: 'mm' };

export interface AllometricFinding {
  field: AllometricField;
  /** Values between which the measure would fit the others. */
  expected: [number, number];
  sentence: string;
}

/** Range of a length (mm) over birds of this mass (g), `spreads` standard deviations to either side. */
export function expectedLengthMm(
  field: AllometricLength,
  massG: number,
  spreads = MOST_SPREADS,
): [number, number] {
  const { a, b, sd } = ALLOMETRY[field];
  const centre = a + b * Math.log10(massG);
  return [10 ** (centre - spreads * sd), 10 ** (centre + spreads * sd)];
}

/** Range of the mass (g) over birds with this length (mm), read back from the same line. */
export function expectedMassG(
  field: AllometricLength,
  lengthMm: number,
  spreads = MOST_SPREADS,
): [number, number] {
  const { a, b, sd } = ALLOMETRY[field];
  const centre = Math.log10(lengthMm) - a;
  return [10 ** ((centre - spreads * sd) / b), 10 ** ((centre + spreads * sd) / b)];
}

/**
 * Holds the measures against each other. With typical values of the taxon their proportions are compared;
 * without, the relation over all birds. When all lengths lie clearly to the same side of what the mass asks
 * for, the mass is named instead of them.
 */
export function checkProportions(
  measures: AllometricMeasures,
  typical: AllometricMeasures | null = null,
): AllometricFinding[] {
  const own = typical ? compareWithTaxon(measures, typical) : null;
  return own ?? compareWithAllBirds(measures);
}

function compareWithAllBirds(measures: AllometricMeasures): AllometricFinding[] {
  const { massG } = measures;
  if (massG === undefined || massG <= 0) return [];
  const taken = LENGTHS.flatMap((field) => {
    const lengthMm = measures[field] ?? 0;
    return lengthMm > 0 ? [{ field, lengthMm, spreads: spreadsFromLine(field, lengthMm, massG) }] : [];
  });
  const odd = taken.filter(({ spreads }) => Math.abs(spreads) > MOST_SPREADS);
  const side = Math.sign(odd[0]?.spreads ?? 0);
  if (
    odd.length > 0 &&
    taken.length > 1 &&
    taken.every(({ spreads }) => spreads * side >= SPREADS_TO_BLAME_MASS)
  ) {
    const ranges = taken.map(({ field, lengthMm }) => expectedMassG(field, lengthMm));
    const expected = ranges.reduce((best, range) => (range[1] / range[0] < best[1] / best[0] ? range : best));
    const beside = taken.map(({ field, lengthMm }) => sayLength(field, lengthMm).toLowerCase()).join(', ');
    return [
      finding('massG', massG, expected, say('does not go with {beside}: birds with these have', { beside })),
    ];
  }
  return odd.map(({ field, lengthMm }) =>
    finding(
      field,
      lengthMm,
      expectedLengthMm(field, massG),
      say('birds of {round} g have', { round: round(massG) }),
    ),
  );
}

/** How far a length lies from the line of all birds, in standard deviations. */
function spreadsFromLine(field: AllometricLength, lengthMm: number, massG: number): number {
  const { a, b, sd } = ALLOMETRY[field];
  return (Math.log10(lengthMm) - a - b * Math.log10(massG)) / sd;
}

/** Null when fewer than three measures can be compared: with two nobody can tell which one is off. */
function compareWithTaxon(
  measures: AllometricMeasures,
  typical: AllometricMeasures,
): AllometricFinding[] | null {
  const shared = (['massG', ...LENGTHS] as const).filter(
    (field) => (measures[field] ?? 0) > 0 && (typical[field] ?? 0) > 0,
  );
  if (shared.length < 3) return null;
  // The mass goes with the cube of a length, so its cube root is compared.
  const power = (field: AllometricField) => (field === 'massG' ? 1 / 3 : 1);
  const ratios = shared.map((field) => ((measures[field] ?? 0) / (typical[field] ?? 1)) ** power(field));
  const size = median(ratios) ?? 1;
  return shared.flatMap((field, at) => {
    const ratio = (ratios[at] ?? size) / size;
    if (within(ratio, [1 / MOST_RATIO, MOST_RATIO])) return [];
    const centre = (typical[field] ?? 0) * size ** (1 / power(field));
    const reach = MOST_RATIO ** (1 / power(field));
    return [
      finding(
        field,
        measures[field] ?? 0,
        [centre / reach, centre * reach],
        say('by its other measures this bird should have'),
      ),
    ];
  });
}

function finding(
  field: AllometricField,
  value: number,
  expected: [number, number],
  why: string,
): AllometricFinding {
  const range = `${round(expected[0])}–${round(expected[1])} ${UNITS[field]}`;
  return {
    field,
    expected,
    sentence: `${sayLength(field, value)}${why.startsWith('does') ? ' ' : ': '}${why} ${range}`,
  };
}

const within = (value: number, [low, high]: [number, number]): boolean => value >= low && value <= high;
const sayLength = (field: AllometricField, value: number): string =>
  `${LABELS[field]} ${value} ${UNITS[field]}`;

/** Three figures are enough for a sentence. */
const round = (value: number): number => Number(value.toPrecision(3));
