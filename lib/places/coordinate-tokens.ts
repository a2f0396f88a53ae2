/** One piece of a coordinate as written. */
export type CoordinateToken =
  | { kind: 'number'; text: string; value: number; signed: boolean }
  | { kind: 'unit'; unit: 'degrees' | 'minutes' | 'seconds' }
  | { kind: 'hemisphere'; hemisphere: Hemisphere }
  | { kind: 'separator' }
  | { kind: 'join' }
  | { kind: 'label'; axis: 'latitude' | 'longitude' };
export type Hemisphere = 'N' | 'S' | 'E' | 'W';

const HEMISPHERES: Record<string, Hemisphere> = {
  n: 'N',
  north: 'N',
  nord: 'N',
  norte: 'N',
  s: 'S',
  south: 'S',
  sud: 'S',
  süd: 'S',
  sur: 'S',
  sul: 'S',
  e: 'E',
  east: 'E',
  est: 'E',
  este: 'E',
  ost: 'E',
  leste: 'E',
  w: 'W',
  west: 'W',
  ouest: 'W',
  oeste: 'W',
  ovest: 'W',
};
const UNITS: Record<string, 'degrees' | 'minutes' | 'seconds'> = {
  d: 'degrees',
  deg: 'degrees',
  degs: 'degrees',
  degree: 'degrees',
  degrees: 'degrees',
  grad: 'degrees',
  m: 'minutes',
  min: 'minutes',
  mins: 'minutes',
  minute: 'minutes',
  minutes: 'minutes',
  sec: 'seconds',
  secs: 'seconds',
  second: 'seconds',
  seconds: 'seconds',
};
const LABELS: Record<string, 'latitude' | 'longitude'> = {
  lat: 'latitude',
  latitude: 'latitude',
  lon: 'longitude',
  long: 'longitude',
  lng: 'longitude',
  longitude: 'longitude',
};

/** Typographic signs brought to the plain ones; the meaning of none is changed. */
export function plainSigns(text: string): string {
  return text
    .normalize('NFC')
    .replace(/[−–—‒]/g, '-')
    .replace(/[º˚⁰∘]/g, '°')
    .replace(/[″”“„‟]/g, '"')
    .replace(/[′’‘ʹʼ´`]/g, "'")
    .replace(/'\s?'/g, '"')
    .replace(/\s+/g, ' ')
    .trim();
}

/**
 * Decides what commas between digits mean. With a decimal point anywhere they divide; before a sign of degrees,
 * minutes or seconds they are decimal commas; two of them in numbers that something else divides
 * ("51,5; -0,12") too. Null where both readings are possible ("51,12").
 */
function settleCommas(written: string): string | null {
  const text = /\d\.\d/.test(written) ? written : written.replace(/(\d),(?=\d+ ?[°'"])/g, '$1.');
  const tight = text.match(/\d,(?=\d)/g)?.length ?? 0;
  if (tight === 0 || /\d\.\d/.test(text)) return text;
  const divided = /\d,\d+[^,\d]+\d*,\d|\d,\d+[^,\d]+-?\d+,\d|\d,\d+, -?\d+,\d/.test(text);
  return tight === 2 && divided ? text.replace(/(\d),(?=\d)/g, '$1.') : null;
}

/** Cuts a coordinate into tokens; null at a word or sign it does not know, or at commas that can be read two ways. */
export function tokenizeCoordinate(written: string): CoordinateToken[] | null {
  const text = settleCommas(plainSigns(written));
  if (text === null) return null;
  const tokens: CoordinateToken[] = [];
  const pattern = /(:|(?<=\d)-(?=\d))|([+-]?\d+(?:\.\d+)?)|([°'"])|([,;/])|(\p{L}+)\.?|[\s()=]|(.)/gu;
  for (const [, join, number, sign, separator, word, unknown] of text.matchAll(pattern)) {
    if (unknown) return null;
    if (join) tokens.push({ kind: 'join' });
    if (number)
      tokens.push({ kind: 'number', text: number, value: Number(number), signed: /^[+-]/.test(number) });
    if (sign)
      tokens.push({ kind: 'unit', unit: sign === '°' ? 'degrees' : sign === "'" ? 'minutes' : 'seconds' });
    if (separator) tokens.push({ kind: 'separator' });
    if (word) {
      const token = readWord(word, tokens);
      if (!token) return null;
      tokens.push(token);
    }
  }
  return tokens;
}

function readWord(word: string, before: CoordinateToken[]): CoordinateToken | null {
  const lower = word.toLowerCase();
  // A small "s" after minutes written with a letter ("10m 34s") is the seconds; any other lone s is the south.
  if (word === 's' && before.at(-1)?.kind === 'number' && before.at(-2)?.kind === 'unit') {
    const unit = before.at(-2);
    if (unit?.kind === 'unit' && unit.unit === 'minutes') return { kind: 'unit', unit: 'seconds' };
  }
  const unit = UNITS[lower];
  if (unit) return { kind: 'unit', unit };
  const hemisphere = HEMISPHERES[lower];
  if (hemisphere) return { kind: 'hemisphere', hemisphere };
  const axis = LABELS[lower];
  return axis ? { kind: 'label', axis } : null;
}
