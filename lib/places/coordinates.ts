import type { CoordinateSystem, ParsedCoordinates } from '@/lib/places/coordinate-shapes';
import {
  type CoordinateToken,
  type Hemisphere,
  plainSigns,
  tokenizeCoordinate,
} from '@/lib/places/coordinate-tokens';
import { type GridDatum, wrapLongitude } from '@/lib/places/geodesy';
import { looksLikeGrid, parseGridReference } from '@/lib/places/grid-references';
import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import { say, sayCode } from '@/lib/platform/words/say';

export interface CoordinateOptions {
  /** Refuse anything that is not written in this system. */
  system?: CoordinateSystem;
  /** The datum of a grid reference; degrees keep theirs without it. */
  datum?: GridDatum;
}

interface Half {
  value: number;
  axis: 'latitude' | 'longitude' | null;
  parts: number;
  precisionDegrees: number;
  /** Whether the side of the equator or of Greenwich was written, by a letter or a sign. */
  sided: 'letter' | 'sign' | null;
}

const SYSTEM_OF_PARTS: CoordinateSystem[] = [
  'decimal degrees',
  'decimal degrees',
  'degrees decimal minutes',
  'degrees minutes seconds',
];
const AXIS: Record<Hemisphere, 'latitude' | 'longitude'> = {
  N: 'latitude',
  S: 'latitude',
  E: 'longitude',
  W: 'longitude',
};

/**
 * Reads a place as written: decimal degrees, degrees and minutes, degrees minutes seconds, hemisphere letters or
 * words, ISO 6709 (the fixed-width form of ringing schemes is part of it), UTM and MGRS. Whatever can be read
 * two ways is refused with its readings.
 */
export function parseCoordinates(
  verbatim: string,
  options: CoordinateOptions = {},
): Outcome<ParsedCoordinates> {
  const text = plainSigns(verbatim);
  if (text === '') return refuse('empty', say('No coordinates were given.'));
  const parsed = readAny(text, verbatim, options);
  if (parsed.ok && options.system && parsed.value.system !== options.system) {
    return refuse(
      'unreadable',
      say('Written as {system}, but {system2} was declared.', {
        system: parsed.value.system,
        system2: options.system,
      }),
    );
  }
  return parsed;
}

function readAny(text: string, verbatim: string, options: CoordinateOptions): Outcome<ParsedCoordinates> {
  const fixed = parseIso6709(text, verbatim);
  if (fixed) return fixed;
  if (looksLikeGrid(text)) return parseGridReference(text, verbatim, options.datum);
  const tokens = tokenizeCoordinate(verbatim);
  if (!tokens) {
    return /\d,\d/.test(text)
      ? refuse(
          'ambiguous',
          say('The commas can be decimal commas or dividers; write points and one divider.'),
        )
      : refuse('unreadable', say('A word or sign in it is not one of a coordinate.'));
  }
  const halves = splitHalves(tokens);
  return halves.ok ? joinHalves(halves.value, verbatim) : halves;
}

/** Reads the two halves from their own fields, as in dwc:verbatimLatitude and dwc:verbatimLongitude. */
export function parseLatitudeLongitude(latitude: string, longitude: string): Outcome<ParsedCoordinates> {
  const verbatim = `${latitude}; ${longitude}`;
  const pair: Half[] = [];
  for (const [text, axis] of [
    [latitude, 'latitude'],
    [longitude, 'longitude'],
  ] as const) {
    const tokens = tokenizeCoordinate(/^\s*[+-]?\d+,\d+\s*$/.test(text) ? text.replace(',', '.') : text);
    if (!tokens?.length)
      return refuse(
        text.trim() ? 'unreadable' : 'empty',
        say('The {axis} cannot be read.', { axis: sayCode(axis) }),
      );
    const half = readHalf(tokens);
    if (!half.ok) return half;
    if (half.value.axis && half.value.axis !== axis) {
      return refuse(
        'unreadable',
        say('A {axis} was written where the {axis2} belongs.', {
          axis: sayCode(half.value.axis),
          axis2: sayCode(axis),
        }),
      );
    }
    pair.push({ ...half.value, axis });
  }
  return joinHalves(pair, verbatim);
}

/** ±DDMMSS±DDDMMSS and its shorter forms; null when the text has another shape. */
function parseIso6709(text: string, verbatim: string): Outcome<ParsedCoordinates> | null {
  const match = /^([+-])(\d{2}|\d{4}|\d{6})(\.\d+)?([+-])(\d{3}|\d{5}|\d{7})(\.\d+)?\/?$/.exec(text);
  const [, latSign, latDigits = '', latFraction = '', lonSign, lonDigits = '', lonFraction = ''] =
    match ?? [];
  if (!match || latDigits.length + 1 !== lonDigits.length) return null;
  const read = (digits: string, width: number, fraction: string, sign: string | undefined): Half | null => {
    const cut = [digits.slice(0, width), digits.slice(width, width + 2), digits.slice(width + 2)].filter(
      Boolean,
    );
    const last = cut.length - 1;
    const parts = cut.map((part, index) => Number(index === last ? part + fraction : part));
    if (parts.slice(1).some((part) => part >= 60)) return null;
    const value = parts.reduce((sum, part, index) => sum + part / 60 ** index, 0);
    const precisionDegrees = stepOf(fraction) / 60 ** last;
    return {
      value: sign === '-' ? -value : value,
      axis: null,
      parts: parts.length,
      precisionDegrees,
      sided: 'sign',
    };
  };
  const latitude = read(latDigits, 2, latFraction, latSign);
  const longitude = read(lonDigits, 3, lonFraction, lonSign);
  if (!latitude || !longitude) return refuse('out-of-range', say('Minutes and seconds end at 59.'));
  const joined = joinHalves(
    [
      { ...latitude, axis: 'latitude' },
      { ...longitude, axis: 'longitude' },
    ],
    verbatim,
  );
  return joined.ok ? accept({ ...joined.value, system: 'ISO 6709' }) : joined;
}

function splitHalves(tokens: CoordinateToken[]): Outcome<Half[]> {
  const cut = findCut(tokens);
  if (cut === null) {
    return refuse(
      'incomplete',
      say('Latitude and longitude cannot be told apart; put a comma or N, S, E, W between them.'),
    );
  }
  if (tokens[cut - 1]?.kind === 'join') {
    return refuse(
      'ambiguous',
      say('A hyphen between the two numbers can be a dash or a minus; put a comma between them.'),
    );
  }
  const first = readHalf(tokens.slice(0, cut).filter((token) => token.kind !== 'separator'));
  const second = readHalf(tokens.slice(cut).filter((token) => token.kind !== 'separator'));
  if (!first.ok) return first;
  return second.ok ? accept([first.value, second.value]) : second;
}

/** Index of the token that begins the second half: at the divider, the hemispheres, the degree signs or halfway. */
function findCut(tokens: CoordinateToken[]): number | null {
  const at = (test: (token: CoordinateToken) => boolean) =>
    tokens.flatMap((token, index) => (test(token) ? [index] : []));
  const labels = at((token) => token.kind === 'label');
  if (labels.length === 2 && labels[0] === 0) return labels[1] ?? null;
  const separators = at((token) => token.kind === 'separator').filter((index) => index < tokens.length - 1);
  if (separators.length === 1) return separators[0] ?? null;
  if (separators.length > 1) return null;
  const hemispheres = at((token) => token.kind === 'hemisphere');
  if (hemispheres.length === 2) {
    const [first = 0, second = 0] = hemispheres;
    return first === 0 ? second : first + 1;
  }
  const degrees = at((token) => token.kind === 'unit' && token.unit === 'degrees');
  if (degrees.length === 2) return (degrees[1] ?? 1) - 1;
  const numbers = at((token) => token.kind === 'number');
  return numbers.length > 0 && numbers.length % 2 === 0 ? (numbers[numbers.length / 2] ?? null) : null;
}

function readHalf(tokens: CoordinateToken[]): Outcome<Half> {
  const numbers = tokens.filter((token) => token.kind === 'number');
  const hemispheres = tokens.filter((token) => token.kind === 'hemisphere');
  const label = tokens.find((token) => token.kind === 'label');
  const [degrees] = numbers;
  if (!degrees) return refuse('incomplete', say('One of latitude and longitude has no number.'));
  if (numbers.length > 3 || hemispheres.length > 1) {
    return refuse('unreadable', say('More numbers or hemispheres than a latitude or longitude has.'));
  }
  const shape = checkParts(tokens, numbers);
  if (shape) return shape;
  const hemisphere = hemispheres[0]?.hemisphere;
  const sum = numbers.reduce((total, part, index) => total + Math.abs(part.value) / 60 ** index, 0);
  if (hemisphere && degrees.signed)
    return refuseSignedHemisphere(sum, hemisphere, degrees.text.startsWith('-'));
  if (numbers.length > 1 && !hemisphere && !degrees.signed) {
    return refuse('ambiguous', say('Degrees with minutes need N, S, E, W or a sign.'), [
      String(sum),
      String(-sum),
    ]);
  }
  const negative = hemisphere ? 'SW'.includes(hemisphere) : degrees.text.startsWith('-');
  const axis = hemisphere ? AXIS[hemisphere] : (label?.axis ?? null);
  const last = numbers.at(-1);
  const precisionDegrees = stepOf(last?.text ?? '') / 60 ** (numbers.length - 1);
  const sided = hemisphere ? 'letter' : degrees.signed ? 'sign' : null;
  return accept({ value: negative ? -sum : sum, axis, parts: numbers.length, precisionDegrees, sided });
}

/** Units in their order, no fraction before the last number, minutes and seconds below 60. */
function checkParts(
  tokens: CoordinateToken[],
  numbers: (CoordinateToken & { kind: 'number' })[],
): Outcome<Half> | null {
  const order = ['degrees', 'minutes', 'seconds'];
  const units = tokens.filter((token) => token.kind === 'unit').map((token) => token.unit);
  if (units.length > numbers.length || units.some((unit, index) => unit !== order[index])) {
    return refuse('unreadable', say('The signs of degrees, minutes and seconds do not follow each other.'));
  }
  if (numbers.slice(0, -1).some((part) => part.text.includes('.'))) {
    return refuse('unreadable', say('Only the last number of a latitude or longitude can have a fraction.'));
  }
  if (numbers.slice(1).some((part) => part.value >= 60 || part.signed)) {
    return refuse('out-of-range', say('Minutes and seconds run from 0 to 59 and have no sign of their own.'));
  }
  return null;
}

function refuseSignedHemisphere(sum: number, hemisphere: Hemisphere, negative: boolean): Outcome<Half> {
  const meant = 'SW'.includes(hemisphere) ? -sum : sum;
  const multiplied = negative ? -meant : meant;
  const message = say('A sign and the letter {hemisphere} together can be read two ways; keep one of them.', {
    hemisphere,
  });
  return refuse('ambiguous', message, [...new Set([String(meant), String(multiplied)])]);
}

function joinHalves(halves: Half[], verbatim: string): Outcome<ParsedCoordinates> {
  const [first, second] = halves;
  if (!first || !second) return refuse('incomplete', say('Latitude or longitude is missing.'));
  if (first.axis !== null && first.axis === second.axis) {
    return refuse('unreadable', say('Both numbers are a {axis}.', { axis: sayCode(first.axis) }));
  }
  const bare = [first, second].find((half) => half.sided === null);
  if (bare && bare.value !== 0 && [first, second].some((half) => half.sided === 'letter')) {
    return refuse(
      'ambiguous',
      say('One number has its hemisphere and the other has none; say N, S, E or W for both.'),
    );
  }
  const remarks: string[] = [];
  let swapped = first.axis === 'longitude' || second.axis === 'latitude';
  if (
    first.axis === null &&
    second.axis === null &&
    Math.abs(first.value) > 90 &&
    Math.abs(second.value) <= 90
  ) {
    swapped = true;
    remarks.push(say('The first number is too large for a latitude, so it was read as the longitude.'));
  }
  const [latitude, longitude] = swapped ? [second, first] : [first, second];
  if (Math.abs(latitude.value) > 90) return refuse('out-of-range', say('A latitude ends at 90 degrees.'));
  if (Math.abs(longitude.value) > 180) return refuse('out-of-range', say('A longitude ends at 180 degrees.'));
  if (latitude.value === 0 && longitude.value === 0)
    remarks.push(say('Zero, zero is usually a missing value.'));
  return accept({
    latitude: latitude.value,
    longitude: longitude.value === -180 ? wrapLongitude(longitude.value) : longitude.value,
    system: SYSTEM_OF_PARTS[Math.max(first.parts, second.parts)] ?? 'decimal degrees',
    verbatim,
    precisionDegrees: Math.max(first.precisionDegrees, second.precisionDegrees),
    gridSizeM: null,
    remarks,
  });
}

function stepOf(text: string): number {
  return 10 ** -(text.split('.')[1]?.length ?? 0);
}

/** Writes a point for people: degrees to 5 decimals, minutes to 3, seconds to 1 unless told otherwise. */
export function formatCoordinates(
  point: { latitude: number; longitude: number },
  style: 'decimal degrees' | 'degrees decimal minutes' | 'degrees minutes seconds',
  decimals = style === 'decimal degrees' ? 5 : style === 'degrees decimal minutes' ? 3 : 1,
): string {
  if (style === 'decimal degrees') {
    return `${point.latitude.toFixed(decimals)}, ${point.longitude.toFixed(decimals)}`;
  }
  const half = (value: number, letters: string): string => {
    const smallest = style === 'degrees decimal minutes' ? 60 : 3600;
    const units = Math.round(Math.abs(value) * smallest * 10 ** decimals) / 10 ** decimals;
    const degrees = Math.floor(units / smallest + 1e-12);
    const rest = Math.max(0, units - degrees * smallest);
    const letter = value < 0 ? letters[1] : letters[0];
    if (smallest === 60) return `${degrees}°${rest.toFixed(decimals)}′${letter}`;
    const minutes = Math.floor(rest / 60 + 1e-9);
    return `${degrees}°${minutes}′${Math.max(0, rest - minutes * 60).toFixed(decimals)}″${letter}`;
  };
  return `${half(point.latitude, 'NS')} ${half(point.longitude, 'EW')}`;
}
