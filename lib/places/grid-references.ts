import { toPoint as mgrsToPoint } from 'mgrs';
import type { ParsedCoordinates } from '@/lib/places/coordinate-shapes';
import {
  fromUtm,
  type GridDatum,
  measureDegree,
  type Point,
  toUtm,
  type UtmPosition,
  wrapLongitude,
} from '@/lib/places/geodesy';
import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import { say } from '@/lib/platform/words/say';

const BANDS = 'CDEFGHJKLMNPQRSTUVWX';
const UTM =
  /^(?:utm )?(?:zone )?(\d{1,2}) ?(north|south|[a-z])?[ ,;]+(?:([en])[ :=]?)?(\d{1,8}(?:\.\d+)?) ?(m?[en]|m)?[ ,;]+(?:([en])[ :=]?)?(\d{1,8}(?:\.\d+)?) ?(m?[en]|m)?$/i;
const MGRS = /^(\d{1,2})([A-Za-z]) ?([A-Za-z]{2}) ?((?:\d+ ?\d+)?)$/;

/** Whether a text (its signs already plain) has the shape of a UTM or MGRS reference. */
export function looksLikeGrid(text: string): boolean {
  const plain = withoutThousands(text);
  // Without a number of five digits it is more likely a list of small numbers than metres.
  return (UTM.test(plain) && /\d{5}/.test(plain)) || MGRS.test(text);
}

/** "630,000" has a thousands comma only where every comma is followed by exactly three digits. */
function withoutThousands(text: string): string {
  return /^[^,]*\d{1,3}(,\d{3})+(?!\d)[^,]*(\d{1,3}(,\d{3})+(?!\d)[^,]*)?$/.test(text)
    ? text.replace(/(\d),(?=\d{3}(?!\d))/g, '$1')
    : text;
}

export function parseGridReference(
  text: string,
  verbatim: string,
  datum: GridDatum = 'EPSG:4326',
): Outcome<ParsedCoordinates> {
  return MGRS.test(text)
    ? parseMgrs(text, verbatim, datum)
    : parseUtm(withoutThousands(text), verbatim, datum);
}

function parseUtm(text: string, verbatim: string, datum: GridDatum): Outcome<ParsedCoordinates> {
  const [, zoneText, letter = '', before1, number1 = '', after1, before2, number2 = '', after2] =
    UTM.exec(text) ?? [];
  const zone = Number(zoneText);
  if (zone < 1 || zone > 60) return refuse('out-of-range', say('UTM zones run from 1 to 60.'));
  const mark1 = (before1 ?? after1 ?? '').slice(-1).toLowerCase();
  const mark2 = (before2 ?? after2 ?? '').slice(-1).toLowerCase();
  const northFirst = mark1 === 'n' || mark2 === 'e';
  if (northFirst && (mark1 === 'e' || mark2 === 'n'))
    return refuse('unreadable', say('Easting and northing are marked alike.'));
  const [eastText, northText] = northFirst ? [number2, number1] : [number1, number2];
  const position = { zone, eastingM: Number(eastText), northingM: Number(northText) };
  if (position.eastingM < 100_000 || position.eastingM >= 900_000) {
    return refuse('out-of-range', say('A UTM easting lies between 100,000 and 900,000 m.'));
  }
  if (position.northingM > 10_000_000)
    return refuse('out-of-range', say('A UTM northing ends at 10,000,000 m.'));
  const hemisphere = settleHemisphere(letter, position, datum);
  if (!hemisphere.ok) return hemisphere;
  const point = fromUtm({ ...position, hemisphere: hemisphere.value }, datum);
  const decimals = Math.min(decimalsOf(eastText), decimalsOf(northText));
  return accept({
    ...point,
    system: 'UTM',
    verbatim,
    precisionDegrees: null,
    gridSizeM: 10 ** -decimals,
    remarks: [],
  });
}

function decimalsOf(text: string): number {
  return text.split('.')[1]?.length ?? 0;
}

/** A letter after the zone is a latitude band or, for N and S, a hemisphere; where both fit, both are shown. */
function settleHemisphere(
  letter: string,
  position: Omit<UtmPosition, 'hemisphere'>,
  datum: GridDatum,
): Outcome<UtmPosition['hemisphere']> {
  const upper = letter.toUpperCase();
  const north = fromUtm({ ...position, hemisphere: 'north' }, datum);
  const south = fromUtm({ ...position, hemisphere: 'south' }, datum);
  if (upper === 'NORTH') return accept('north');
  if (upper === 'SOUTH') return accept('south');
  if (upper === '')
    return refuse('ambiguous', say('A UTM zone needs its band letter or hemisphere.'), [
      show(north),
      show(south),
    ]);
  if (!BANDS.includes(upper))
    return refuse('out-of-range', say('{upper} is no UTM latitude band.', { upper }));
  if (upper === 'N') return accept('north');
  if (upper === 'S') {
    if (!inBand(north, 'S')) return accept('south');
    return refuse(
      'ambiguous',
      say('S can be the band from 32 to 40 degrees north or the southern hemisphere.'),
      [show(north), show(south)],
    );
  }
  const hemisphere = upper < 'N' ? 'south' : 'north';
  const point = hemisphere === 'north' ? north : south;
  return inBand(point, upper)
    ? accept(hemisphere)
    : refuse(
        'out-of-range',
        say('The northing does not lie in band {upper}; check the letter and the digits.', { upper }),
      );
}

function show(point: Point): string {
  return `${point.latitude.toFixed(5)}, ${point.longitude.toFixed(5)}`;
}

/** Whether a point lies in a latitude band, with a few metres of tolerance at its edges. */
function inBand({ latitude }: Point, band: string, toleranceDegrees = 1e-4): boolean {
  const south = -80 + 8 * BANDS.indexOf(band);
  const north = band === 'X' ? 84 : south + 8;
  return latitude >= south - toleranceDegrees && latitude <= north + toleranceDegrees;
}

function parseMgrs(text: string, verbatim: string, datum: GridDatum): Outcome<ParsedCoordinates> {
  const [, zone = '', band = '', square = '', digits = ''] = MGRS.exec(text) ?? [];
  const figures = digits.replace(' ', '');
  if (figures.length % 2 !== 0)
    return refuse('incomplete', say('An MGRS reference has as many digits for east as for north.'));
  if (digits.includes(' ') && digits.indexOf(' ') !== figures.length / 2) {
    return refuse('unreadable', say('The two groups of digits differ in length.'));
  }
  if (figures.length > 10)
    return refuse('unreadable', say('An MGRS reference has at most five digits each way.'));
  if (datum === 'EPSG:4267' || datum === 'EPSG:4230') {
    return refuse(
      'unreadable',
      say('The square letters of an older datum differ; give these coordinates in UTM.'),
    );
  }
  const letters = (band + square).toUpperCase();
  const reference = `${Number(zone)}${letters}${figures}`;
  const half = figures.length / 2;
  const sizeM = 10 ** (5 - half);
  const centre = findSquareCentre(reference, letters.slice(0, 1), Number(zone), sizeM);
  if (!centre)
    return refuse(
      'out-of-range',
      say('There is no such square: zone, band and square letters do not fit together.'),
    );
  return accept({
    ...centre,
    system: 'MGRS',
    verbatim,
    precisionDegrees: null,
    gridSizeM: sizeM,
    remarks: [],
  });
}

/** The centre of the square as the library gives it; null when the reference names no square of that zone. */
function findSquareCentre(reference: string, band: string, zone: number, sizeM: number): Point | null {
  if (zone < 1 || zone > 60 || !BANDS.includes(band)) return null;
  let centre: Point;
  try {
    const [longitude, latitude] = mgrsToPoint(reference);
    centre = { latitude, longitude };
  } catch {
    return null;
  }
  const degree = measureDegree(centre.latitude);
  const reach = band === 'V' || band === 'X' ? 6 : 3;
  const fromMeridian = Math.abs(wrapLongitude(centre.longitude - (zone * 6 - 183)));
  if (!inBand(centre, band, sizeM / degree.latitudeM + 1e-4)) return null;
  if (fromMeridian > reach + sizeM / degree.longitudeM + 1e-4) return null;
  const letters = reference.replace(/^\d+./, '').slice(0, 2);
  return nameSquare(toUtm(centre, 'EPSG:4326', zone), band) === letters ? centre : null;
}

/** The two letters of the 100 km square, from the grid lettering of WGS84 (sets of six zones). */
function nameSquare(position: UtmPosition, band: string): string {
  const { zone, eastingM } = position;
  const crossed = band < 'N' !== (position.hemisphere === 'south');
  const northingM = position.northingM + (crossed ? (band < 'N' ? 10_000_000 : -10_000_000) : 0);
  const columns = ['STUVWXYZ', 'ABCDEFGH', 'JKLMNPQR'][zone % 3] ?? '';
  const rows = zone % 2 === 0 ? 'FGHJKLMNPQRSTUVABCDE' : 'ABCDEFGHJKLMNPQRSTUV';
  return `${columns[Math.floor(eastingM / 100_000) - 1] ?? ''}${rows[Math.floor(northingM / 100_000) % 20] ?? ''}`;
}
