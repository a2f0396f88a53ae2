import { type FieldKind, findImportField } from '@/lib/exchange/import-fields';
import {
  accept,
  type DateOptions,
  findMetresPerUnit,
  type Outcome,
  parseCoordinates,
  parseDate,
  parseMetreRange,
  refuse,
  standardiseDatum,
} from '@/lib/places/public-rules';

export type Sex = 'female' | 'male' | 'undetermined';

const SEX_WORDS: Record<string, Sex> = {
  f: 'female',
  female: 'female',
  fem: 'female',
  '♀': 'female',
  hembra: 'female',
  femelle: 'female',
  weiblich: 'female',
  '0.1': 'female',
  m: 'male',
  male: 'male',
  '♂': 'male',
  macho: 'male',
  mâle: 'male',
  männlich: 'male',
  '1.0': 'male',
  u: 'undetermined',
  unk: 'undetermined',
  unknown: 'undetermined',
  undetermined: 'undetermined',
  indet: 'undetermined',
  indeterminate: 'undetermined',
  unsexed: 'undetermined',
  'not determined': 'undetermined',
  nd: 'undetermined',
};

/** A sex as sheets write it. "F?" and "?" are shown as doubtful, never decided. */
export function readSex(text: string): Outcome<Sex> {
  const plain = text.trim().toLowerCase().replace(/\.$/, '');
  if (plain === '') return refuse('empty', 'No sex is given.');
  const sex = SEX_WORDS[plain];
  if (sex) return accept(sex);
  const doubtful = /^\(?([^?()]*)\)? ?\?$/.exec(plain);
  if (doubtful) {
    const meant = SEX_WORDS[(doubtful[1] ?? '').trim()];
    return refuse('ambiguous', 'The sex is marked as doubtful.', [...(meant ? [meant] : []), 'undetermined']);
  }
  return refuse('unreadable', `"${text}" is no sex known here: female, male or undetermined.`);
}

/** The styles of the bench, by words found in a sheet; the more telling come first. */
const STYLE_WORDS: [RegExp, string][] = [
  [/skin.*(part|skel)|(part|skel).*skin|\bsk ?\/ ?ss\b/, 'skin-with-partial-skeleton'],
  [/flat/, 'flat-skin'],
  [/spread|wing/, 'spread-wing-with-skin'],
  [/(whole|complete|full|entire).*skel|^skel(eton)?$/, 'whole-skeleton'],
  [/fluid|alcohol|etoh|ethanol|formalin|spirit|pickle/, 'fluid'],
  [/^tissues?( sample)?( only)?$/, 'tissue-only'],
  [/discard|thrown|destroyed/, 'discard'],
];

/** The id of a preparation style; words that fit two styles are shown as such. */
export function readStyle(text: string): Outcome<string> {
  const plain = text.trim().toLowerCase();
  if (plain === '') return refuse('empty', 'No preparation is given.');
  const style = STYLE_WORDS.find(([pattern]) => pattern.test(plain))?.[1];
  if (style) return accept(style);
  if (/skin/.test(plain)) {
    return refuse('ambiguous', 'A skin with or without a skeleton, round or flat?', [
      'skin-with-partial-skeleton',
      'flat-skin',
    ]);
  }
  if (/skel/.test(plain)) {
    return refuse('ambiguous', 'A skeleton of its own, or one beside a skin?', [
      'whole-skeleton',
      'skin-with-partial-skeleton',
    ]);
  }
  return refuse('unreadable', `"${text}" is no preparation style known here.`);
}

const GRAMS: Record<string, number> = {
  g: 1,
  gm: 1,
  gr: 1,
  gms: 1,
  gram: 1,
  grams: 1,
  kg: 1000,
  mg: 0.001,
  oz: 28.349523125,
  lb: 453.59237,
  lbs: 453.59237,
};

/** A number with or without a unit, in grams or millimetres; ranges, estimates and texts are refused. */
export function readMeasure(
  text: string,
  target: 'g' | 'mm',
  headUnit: string | null = null,
): Outcome<number> {
  const plain = text.trim().replace(/\s+/g, ' ');
  if (plain === '') return refuse('empty', 'No number is given.');
  const match = /^(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?|\.\d+) ?([a-z]+\.?)?$/i.exec(plain);
  if (!match) return refuse('unreadable', `"${text}" is no single number; put ranges and remarks elsewhere.`);
  const [, digits = '', written] = match;
  if (/^\d{1,3},\d{3}$/.test(digits)) {
    return refuse('ambiguous', 'The comma can be a decimal comma or divide thousands.', [
      digits.replace(',', '.'),
      digits.replace(',', ''),
    ]);
  }
  const number = Number(
    /,\d{3}[,.]|,\d{3}$/.test(digits) ? digits.replaceAll(',', '') : digits.replace(',', '.'),
  );
  const unit = (written ?? headUnit ?? target).toLowerCase().replace(/\.$/, '');
  const factor = target === 'g' ? GRAMS[unit] : findMillimetres(unit);
  if (factor === undefined || factor === null)
    return refuse('unreadable', `"${unit}" is no unit for this column.`);
  return accept(Number((number * factor).toPrecision(12)));
}

function findMillimetres(unit: string): number | null {
  if (unit === 'mm') return 1;
  if (unit === 'cm') return 10;
  if (unit === 'in' || unit === 'inch' || unit === 'inches') return 25.4;
  const metres = findMetresPerUnit(unit);
  return metres === null ? null : metres * 1000;
}

export interface ValueOptions extends DateOptions {
  /** The unit that the head of the column names. */
  headUnit?: string | null;
  /** What a person decided for a text as it stands in the sheet, by text in lower case. */
  decided?: Readonly<Record<string, string>>;
}

/** Words that stand for nothing. */
const NOTHING = /^(?:-+|n\/?a|null|none|nil|\.)$/i;

/**
 * One cell in the form Furcula keeps: numbers as text of the unit in the field's name, dates as ISO intervals,
 * sexes and styles by their ids, coordinates and names as written once they have been seen to be readable.
 */
export function readValue(fieldId: string, text: string, options: ValueOptions = {}): Outcome<string> {
  const field = findImportField(fieldId);
  if (!field) return refuse('unreadable', `There is no field ${fieldId}.`);
  const decided = options.decided?.[text.trim().toLowerCase()];
  const given = decided ?? text;
  if (given.trim() === '' || NOTHING.test(given.trim())) return refuse('empty', 'Nothing is given.');
  return readKind(field.kind, given.trim(), options);
}

function readKind(kind: FieldKind, text: string, options: ValueOptions): Outcome<string> {
  switch (kind) {
    case 'date':
      return keep(parseDate(text, options), (date) => date.iso);
    case 'sex':
      return readSex(text);
    case 'style':
      return readStyle(text);
    case 'mass-g':
      return keep(readMeasure(text, 'g', options.headUnit), checkPositive);
    case 'length-mm':
      return keep(readMeasure(text, 'mm', options.headUnit), checkPositive);
    case 'coordinates':
      return keep(parseCoordinates(text), () => text);
    case 'elevation': {
      const unit = options.headUnit;
      return keep(parseMetreRange(/\p{L}/u.test(text) || !unit ? text : `${text} ${unit}`), (range) =>
        range.minimumM === range.maximumM ? String(range.minimumM) : `${range.minimumM}-${range.maximumM}`,
      );
    }
    case 'datum': {
      const code = standardiseDatum(text);
      return code
        ? accept(code)
        : refuse('unreadable', `"${text}" is no datum known here; give its EPSG code or "not recorded".`);
    }
    case 'uncertainty-m':
      return keep(readMeasure(text, 'mm', options.headUnit ?? 'm'), (millimetres) =>
        millimetres > 0 ? String(millimetres / 1000) : null,
      );
    default:
      return accept(text);
  }
}

function checkPositive(value: number): string | null {
  return value > 0 ? String(value) : null;
}

function keep<T>(outcome: Outcome<T>, write: (value: T) => string | null): Outcome<string> {
  if (!outcome.ok) return outcome;
  const text = write(outcome.value);
  return text === null
    ? refuse('out-of-range', 'The number must be larger than zero; leave it empty when it is not known.')
    : accept(text);
}
