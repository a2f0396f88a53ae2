import type { Choice, FieldSpec } from '@/lib/bench/catalogue/types';
import { roundToStep, SCALE_NOT_STATED } from '@/lib/bench/catalogue/types';
import { readDigit, readNumber, readSpokenPart } from '@/lib/bench/dictation/numbers';
import {
  accept,
  failure,
  matchLongest,
  matchWords,
  type Reading,
  readMarker,
  type Sheet,
  skipToValue,
  startsStatement,
  wordAt,
} from '@/lib/bench/dictation/sheet';
import { phraseWords } from '@/lib/bench/dictation/tokens';
import { convert, findUnit, mayFollow } from '@/lib/bench/dictation/units';
import { FIELDS, type FieldId } from '@/lib/bench/fields';

type SpokenChoice = { id: string; words: readonly string[] };
const spokenCache = new WeakMap<readonly Choice[], SpokenChoice[]>();

/** All spoken forms of a list of choices. */
export function spokenChoices(choices: readonly Choice[]): SpokenChoice[] {
  const known = spokenCache.get(choices);
  if (known) return known;
  const spoken = choices.flatMap(({ id, say }) => say.map((phrase) => ({ id, words: phraseWords(phrase) })));
  spokenCache.set(choices, spoken);
  return spoken;
}

const BY = new Set(['by', 'x', '×', '*', 'times']);

/** The unit at this place. "in" is an inch only where no ordinary word follows ("2 in the ovary"). */
function unitAt(sheet: Sheet, at: number, spec: FieldSpec) {
  const word = wordAt(sheet, at);
  if (word === 'per' && wordAt(sheet, at + 1) === 'cent') return { unit: findUnit('%'), next: at + 2 };
  const unit = findUnit(word);
  if (word === 'in') {
    const after = sheet.tokens[at + 1];
    const free =
      after?.kind !== 'word' ||
      BY.has(after.text) ||
      startsStatement(sheet, at + 1) ||
      readMarker(sheet, at + 1, 'number') !== null ||
      matchLongest(sheet, at + 1, spokenChoices(spec.methods)) !== null;
    if (!free) return null;
  }
  return unit ? { unit, next: at + 1 } : null;
}

type Amount = { value: number; unitless: boolean; next: number } | Reading | null;

/** A number with an optional unit, converted to the field's unit. */
function readAmount(sheet: Sheet, at: number, spec: FieldSpec): Amount {
  const number = readNumber(sheet.tokens, at);
  if (number === null) return null;
  if (number === 'ambiguous') return failure('ambiguous-number', at + 1);
  const found = unitAt(sheet, number.next, spec);
  if (!found?.unit) return { value: roundToStep(number.value), unitless: true, next: number.next };
  if (found.unit.to !== spec.unit) return failure('unit-mismatch', found.next);
  const parts = [{ value: number.value, unit: found.unit }];
  let next = found.next;
  const and = wordAt(sheet, next) === 'and' ? 1 : 0;
  const second = readNumber(sheet.tokens, next + and);
  if (second !== null && second !== 'ambiguous') {
    const secondUnit = findUnit(wordAt(sheet, second.next));
    if (secondUnit && mayFollow(found.unit, secondUnit)) {
      parts.push({ value: second.value, unit: secondUnit });
      next = second.next + 1;
    }
  }
  return { value: convert(parts), unitless: false, next };
}

/** "94", "is about 94 mm", "chord 94", "94 flattened", "no 72.5". */
export function readNumberField(sheet: Sheet, field: FieldId, from: number, method: string | null): Reading {
  const spec = FIELDS[field];
  const methods = spokenChoices(spec.methods);
  let place = skipToValue(sheet, from, 'number');
  let correction = place.correction;
  let spokenMethod = method;
  const before = matchLongest(sheet, place.at, methods);
  if (before) {
    spokenMethod = before.id;
    place = skipToValue(sheet, place.at + before.words.length, 'number');
    correction ||= place.correction;
  }
  const amount = readAmount(sheet, place.at, spec);
  if (amount === null) return failure('no-value', place.at);
  if ('ok' in amount) return amount;
  const after = spokenMethod === null ? matchLongest(sheet, amount.next, methods) : null;
  const next = amount.next + (after && !startsStatement(sheet, amount.next) ? after.words.length : 0);
  if (next > amount.next) spokenMethod = after?.id ?? null;
  return accept(field, amount.value, next, { method: spokenMethod, correction });
}

/** "9 by 6", "9 x 6 mm", "0.5 in by 0.3 in", "9". */
export function readSizeField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const size = readSize(sheet, field, at);
  return 'ok' in size ? size : accept(field, size.value, size.next, { correction });
}

function readSize(
  sheet: Sheet,
  field: FieldId,
  at: number,
): { value: { lengthMm: number; widthMm?: number }; next: number } | Reading {
  const spec = FIELDS[field];
  const length = readAmount(sheet, at, spec);
  if (length === null) return failure('no-value', at);
  if ('ok' in length) return length;
  if (!BY.has(wordAt(sheet, length.next) ?? ''))
    return { value: { lengthMm: length.value }, next: length.next };
  const width = readAmount(sheet, length.next + 1, spec);
  if (width === null) return failure('no-value', length.next + 1);
  if ('ok' in width) return width;
  // "0.4 by 0.3 in": the unit said once holds for both.
  const both = length.unitless && !width.unitless ? readAmountAs(sheet, at, width.next - 1) : null;
  return { value: { lengthMm: both ?? length.value, widthMm: width.value }, next: width.next };
}

function readAmountAs(sheet: Sheet, at: number, unitPlace: number): number | null {
  const number = readNumber(sheet.tokens, at);
  const unit = findUnit(wordAt(sheet, unitPlace));
  return number && number !== 'ambiguous' && unit ? convert([{ value: number.value, unit }]) : null;
}

const AMOUNT_WORDS: SpokenChoice[] = [
  ['0', 'none'],
  ['0', 'nil'],
  ['1', 'trace'],
  ['1', 'a trace'],
  ['1', 'little'],
  ['2', 'light'],
  ['2', 'slight'],
  ['3', 'moderate'],
  ['3', 'medium'],
  ['4', 'heavy'],
  ['5', 'very heavy'],
].map(([id = '', phrase = '']) => ({ id, words: phrase.split(' ') }));

/** The scale for a score spoken without one: the lab's own, else "not stated". */
export const defaultScale = (sheet: Sheet, field: FieldId): string =>
  sheet.context.scales?.[field] ?? SCALE_NOT_STATED;

/** "two", "2 on Kaiser", "Kaiser 2", "moderate", "none". */
export function readScoreField(sheet: Sheet, field: FieldId, from: number): Reading {
  const spec = FIELDS[field];
  const scales = spokenChoices(spec.scales);
  let place = skipToValue(sheet, from, 'number');
  let correction = place.correction;
  const leading = readScale(sheet, place.at, scales);
  if (leading) {
    place = skipToValue(sheet, leading.next, 'number');
    correction ||= place.correction;
  }
  const word = matchLongest(sheet, place.at, AMOUNT_WORDS);
  if (word) {
    const inWords = spec.scales.some((scale) => scale.id === 'words');
    if (!inWords && word.id !== '0') return failure('no-value', place.at);
    const scale = word.id === '0' ? defaultScale(sheet, field) : 'words';
    return accept(field, { score: Number(word.id), scale }, place.at + word.words.length, { correction });
  }
  const number = readNumber(sheet.tokens, place.at);
  if (number === null) return failure('no-value', place.at);
  if (number === 'ambiguous') return failure('ambiguous-number', place.at + 1);
  const trailing = leading ?? readScale(sheet, number.next, scales);
  const next = leading ? number.next : (trailing?.next ?? number.next);
  const scale = trailing?.id ?? defaultScale(sheet, field);
  return accept(field, { score: number.value, scale }, next, { correction });
}

function readScale(sheet: Sheet, at: number, scales: SpokenChoice[]): { id: string; next: number } | null {
  const skip =
    matchWords(sheet, at, ['on', 'the']) || matchWords(sheet, at, ['on']) || matchWords(sheet, at, ['by']);
  const found = matchLongest(sheet, at + skip, scales);
  if (!found) return null;
  const next = at + skip + found.words.length;
  return { id: found.id, next: next + matchWords(sheet, next, ['scale']) };
}

/** "5555432100", "5 5 5 4", "five five four oh oh". */
export function readDigitsField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  let digits = '';
  let next = at;
  for (;;) {
    const token = sheet.tokens[next];
    const group = token?.kind === 'number' ? token.text.replace(/[.,]/g, '') : readDigit(token);
    if (group !== null) digits += group;
    else if (digits === '' || (token?.text !== ',' && token?.text !== '-') || !isDigits(sheet, next + 1))
      break;
    next += 1;
  }
  return digits === '' ? failure('no-value', at) : accept(field, digits, next, { correction });
}

const isDigits = (sheet: Sheet, at: number): boolean =>
  sheet.tokens[at]?.kind === 'number' || readDigit(sheet.tokens[at]) !== null;

const FULL = new Set(['fully', 'completely', 'entirely', 'wholly', 'totally', 'full', 'complete']);
const DONE = new Set(['ossified', 'pneumatized', 'pneumatised', 'pneumatic', 'ossification']);
const SKULL_TEXT = new Set(
  'window windows partly partially nearly almost mostly crushed broken fractured shattered damaged'.split(
    ' ',
  ),
);

/** "fully ossified", "not ossified", "half ossified", "80 percent"; "partly ossified" stays text. */
export function readSkullField(
  sheet: Sheet,
  field: FieldId,
  from: number,
  readText: (sheet: Sheet, field: FieldId, from: number) => Reading,
): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const word = wordAt(sheet, at) ?? '';
  const end = (next: number): number => next + (DONE.has(wordAt(sheet, next) ?? '') ? 1 : 0);
  if (SKULL_TEXT.has(word)) {
    const text = readText(sheet, 'skullRemarks', at);
    return text.ok ? { ...text, correction } : text;
  }
  if (FULL.has(word)) return accept(field, 100, end(at + 1), { correction });
  if (word === 'unossified') return accept(field, 0, at + 1, { correction });
  if (DONE.has(word)) return accept(field, 100, at + 1, { correction });
  if (word === 'not') {
    const next = at + 1 + (matchWords(sheet, at + 1, ['at', 'all']) || matchWords(sheet, at + 1, ['yet']));
    return end(next) > next ? accept(field, 0, end(next), { correction }) : failure('no-value', at);
  }
  const part = readSpokenPart(sheet.tokens, at);
  if (part) return accept(field, part.value * 100, end(part.next), { correction });
  const percent = readNumberField(sheet, field, at, null);
  return percent.ok ? { ...percent, next: end(percent.next), correction } : percent;
}

/** "5 by 3", "none", "present", "not looked for". */
export function readBursaField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const states: [string[], string][] = [
    [['none'], 'none'],
    [['absent'], 'none'],
    [['gone'], 'none'],
    [['not', 'found'], 'none'],
    [['not', 'present'], 'none'],
    [['not', 'looked', 'for'], 'not-looked-for'],
    [['not', 'checked'], 'not-looked-for'],
  ];
  for (const [words, state] of states) {
    const length = matchWords(sheet, at, words);
    if (length) return accept(field, { state }, at + length, { correction });
  }
  const present = matchWords(sheet, at, ['present']);
  const size = readSize(sheet, field, present ? skipToValue(sheet, at + present, 'number').at : at);
  if (!('ok' in size)) return accept(field, { state: 'present', ...size.value }, size.next, { correction });
  return present && !size.ok && size.reason === 'no-value'
    ? accept(field, { state: 'present' }, at + present, { correction })
    : size;
}
