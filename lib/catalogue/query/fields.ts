import { say } from '@/lib/platform/words/say';
import { CUSTODY_STATES, MATERIAL_KINDS } from '@/lib/queue/schema';
import { SEXES } from '../schema';
import { isoInterval, monthNumber, monthsBetween } from './dates';
import { BONE_SIDES, BONE_STATES, DATE_FIELDS, type QueryTerm, TEXT_FIELDS } from './schema';

/** Reads `field:value,value`; a string says what is wrong with it. */
type FieldReader = (values: string[]) => QueryTerm | string;

const includes = <T extends string>(list: readonly T[], value: string): value is T =>
  (list as readonly string[]).includes(value);

function oneOf<T extends string>(list: readonly T[], values: string[], build: (values: T[]) => QueryTerm) {
  const known = values.map((value) => value.toLowerCase());
  const wrong = known.find((value) => !includes(list, value));
  if (wrong !== undefined) return say('“{wrong}” is none of {list}.', { wrong, list: list.join(', ') });
  return build(known.filter((value): value is T => includes(list, value)));
}

function readMonthField(values: string[]): QueryTerm | string {
  const months = new Set<number>();
  for (const value of values) {
    const [first, last] = value
      .split('..')
      .map((part) => (/^\d{1,2}$/.test(part) ? Number(part) : monthNumber(part)));
    const isMonth = (month: number | null | undefined) => month != null && month >= 1 && month <= 12;
    if (!isMonth(first) || (last !== undefined && !isMonth(last)))
      return say('“{value}” is not a month or two with “..”.', { value });
    for (const month of monthsBetween(first ?? 1, last ?? first ?? 1)) months.add(month);
  }
  return { kind: 'term', field: 'month', months: [...months].sort((a, b) => a - b) };
}

function readQualityField([value = '', ...more]: string[]): QueryTerm | string {
  const match = /^([1-4])(?:\.\.([1-4]))?$/.exec(value);
  const [least, most] = [Number(match?.[1]), Number(match?.[2] ?? match?.[1])];
  if (match === null || more.length > 0 || least > most) return say('A quality is 1 to 4, or two with “..”.');
  return { kind: 'term', field: 'quality', least, most };
}

/** `bones:radius+ulna/right/whole`: one material with all of these, side and state each optional. */
function readBonesField([value = '', ...more]: string[]): QueryTerm | string {
  const [list = '', ...marks] = value.toLowerCase().split('/');
  const elements = list.split('+');
  if (more.length > 0 || elements.some((element) => !/^[a-z][a-z0-9-]*$/.test(element)))
    return say('Bones are written like radius+ulna/right/whole.');
  const side = marks.find((mark) => includes(BONE_SIDES, mark)) ?? null;
  const state = marks.find((mark) => includes(BONE_STATES, mark)) ?? null;
  const wrong = marks.find((mark) => mark !== side && mark !== state);
  if (wrong !== undefined || marks.length !== Number(side !== null) + Number(state !== null))
    return say('After the bones comes a side ({boneSides}) or a state ({boneStates}).', {
      boneSides: BONE_SIDES.join(', '),
      boneStates: BONE_STATES.join(', '),
    });
  return {
    kind: 'term',
    field: 'bones',
    elements: [...new Set(elements)],
    side: side !== null && includes(BONE_SIDES, side) ? side : null,
    state: state !== null && includes(BONE_STATES, state) ? state : null,
  };
}

const DEGREES = '(-?\\d{1,3}(?:\\.\\d{1,4})?)';
const BOX = new RegExp(`^${DEGREES}\\.\\.${DEGREES}/${DEGREES}\\.\\.${DEGREES}$`);

/** `within:40.1..40.2/-82.7..-82.6`: latitudes and longitudes of a box of the map. */
function readWithinField([value = '', ...more]: string[]): QueryTerm | string {
  // Adding 0 makes a plain zero of "-0".
  const [south = 0, north = 0, west = 0, east = 0] = (BOX.exec(value) ?? [])
    .slice(1)
    .map((text) => Number(text) + 0);
  const isOnEarth = south >= -90 && north <= 90 && west >= -180 && east <= 180;
  if (more.length > 0 || !isOnEarth || south >= north || west >= east)
    return say('A box of the map is written like 40.1..40.2/-82.7..-82.6: latitudes, then longitudes.');
  return { kind: 'term', field: 'within', south, north, west, east };
}

const READERS: Record<string, FieldReader> = {
  number: ([text = '']) => ({ kind: 'term', field: 'number', text }),
  words: ([text = '']) => ({ kind: 'term', field: 'words', text }),
  sex: (values) => oneOf(SEXES, values, (list) => ({ kind: 'term', field: 'sex', values: list })),
  material: (values) =>
    oneOf(MATERIAL_KINDS, values, (list) => ({ kind: 'term', field: 'material', values: list })),
  custody: (values) =>
    oneOf(CUSTODY_STATES, values, (list) => ({ kind: 'term', field: 'custody', values: list })),
  month: readMonthField,
  quality: readQualityField,
  bones: readBonesField,
  within: readWithinField,
};
for (const field of TEXT_FIELDS) READERS[field] = (values) => ({ kind: 'term', field, values });
for (const field of DATE_FIELDS)
  READERS[field] = ([value = '', ...more]) => {
    const interval = more.length > 0 ? null : isoInterval(value);
    if (interval === null)
      return say('“{value}” is not a date like 2024, 2024-03, 2024-03-05 or two with “..”.', { value });
    return { kind: 'term', field, ...interval };
  };

/** Names of the fields, for help and completion. */
export const QUERY_FIELDS = Object.keys(READERS) as readonly QueryTerm['field'][];

/** A term from a field's name and values, or what is wrong with it. */
export function readField(name: string, values: string[]): QueryTerm | string {
  const reader = Object.hasOwn(READERS, name) ? READERS[name] : undefined;
  if (reader === undefined)
    return say('There is no field “{name}”. Fields: {queryFields}.', {
      name,
      queryFields: QUERY_FIELDS.join(', '),
    });
  return values.length === 0 ? say('“{name}” needs a value.', { name }) : reader(values);
}
