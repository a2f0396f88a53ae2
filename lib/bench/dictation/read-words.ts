import type { BenchVial } from '@/lib/bench/catalogue/body';
import { readNumber } from '@/lib/bench/dictation/numbers';
import { spokenChoices } from '@/lib/bench/dictation/read-numbers';
import {
  accept,
  breaksBefore,
  failure,
  matchLongest,
  matchWords,
  type Reading,
  readMarker,
  type Sheet,
  skipToValue,
  startsStatement,
  textBetween,
  wordAt,
} from '@/lib/bench/dictation/sheet';
import { FIELDS, type FieldId } from '@/lib/bench/fields';

/** "sex female", "body moult light". */
export function readCodeField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const found = matchLongest(sheet, at, spokenChoices(FIELDS[field].choices));
  return found ? accept(field, found.id, at + found.words.length, { correction }) : failure('no-value', at);
}

const SEPARATORS = new Set([',', 'and', '&', '+']);

/** Skips ", and", "&" …; returns the place after them. */
function skipSeparators(sheet: Sheet, at: number): number {
  let next = at;
  while (SEPARATORS.has(wordAt(sheet, next) ?? '')) next += 1;
  return next;
}

/** A list of known words: "left ovary and oviduct". */
export function readCodesField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const choices = spokenChoices(FIELDS[field].choices);
  const codes: string[] = [];
  let end = at;
  let next = at;
  for (let found = matchLongest(sheet, next, choices); found; found = matchLongest(sheet, next, choices)) {
    if (end > at && startsStatement(sheet, next)) break;
    if (!codes.includes(found.id)) codes.push(found.id);
    end = next + found.words.length;
    next = skipSeparators(sheet, end);
    if (next === end) break;
  }
  return codes.length > 0 ? accept(field, codes, end, { correction }) : failure('no-value', at);
}

const COLOURS = new Set(
  `amber ash azure beige black blackish blue bluish brown brownish buff chestnut chocolate cinnamon clay cream
  creamy crimson dusky flesh fleshy ginger gold golden gray grayish green greenish grey greyish hazel horn ivory
  lavender lemon lilac maroon mauve mustard ochre olive orange pink pinkish plumbeous purple purplish red reddish
  rufous rose rosy rust rusty salmon sandy scarlet sepia silver silvery slate straw tan teal translucent turquoise
  umber violet white whitish yellow yellowish colourless colorless`.split(/\s+/),
);
const SHADES = new Set(
  `and with to at on of the a but in or very dark light pale paler darker deep dull bright rich medium mid dirty
  almost nearly mostly slightly faintly base basal basally tip tipped tips edge edges edged distal distally proximal
  half third ring rim spot spots spotted streak streaks outer inner around above below upper lower sides side back
  front centre center middle ridge cutting becoming fading washed tinged tinge mottled coloured colored colour color
  pads webs joints scales nail under side underside top towards near ,`.split(/\s+/),
);

/** A colour in words. It ends at the first word that describes no colour, so that nothing is swallowed. */
export function readColourField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'colour');
  const quoted = sheet.tokens[at];
  if (quoted?.kind === 'quoted') return accept(field, quoted.text, at + 1, { correction });
  let end = at;
  let next = at;
  while (!breaksBefore(sheet, next) || next === at) {
    const word = wordAt(sheet, next);
    if (word === undefined || (next > at && startsStatement(sheet, next))) break;
    if (COLOURS.has(word)) end = next + 1;
    else if (!SHADES.has(word)) break;
    else if (!JOINING.has(word) && end > at) end = next + 1;
    next += 1;
  }
  if (end === at || !hasColour(sheet, at, end)) {
    return failure(readNumber(sheet.tokens, at) === null ? 'no-value' : 'which-measure', at);
  }
  return accept(field, textBetween(sheet, at, end), end, { correction });
}

/** Words of a colour that cannot be its last. */
const JOINING = new Set(
  'and with to at on of the a but in or very becoming towards near around ,'.split(' '),
);

function hasColour(sheet: Sheet, from: number, to: number): boolean {
  for (let at = from; at < to; at += 1) if (COLOURS.has(wordAt(sheet, at) ?? '')) return true;
  return false;
}

/** First place after the run of free text that starts here. */
function endOfRun(sheet: Sheet, from: number, stopAtStatements: boolean): number {
  let next = from;
  while (next < sheet.tokens.length) {
    if (wordAt(sheet, next) === ';' || (next > from && breaksBefore(sheet, next))) break;
    if (readMarker(sheet, next, 'text') !== null) break;
    if (stopAtStatements && startsStatement(sheet, next) && !(next === from && beginsList(sheet, next)))
      break;
    if (wordAt(sheet, next) === '.' && (startsStatement(sheet, next + 1) || next + 1 === sheet.tokens.length))
      break;
    next += 1;
  }
  return next;
}

/** "trauma broken left wing": a list named at once inside another list is its first item. */
function beginsList(sheet: Sheet, at: number): boolean {
  const reading = sheet.statements[at];
  const field = reading?.ok ? reading.items[0]?.field : undefined;
  return field !== undefined && FIELDS[field].form === 'items';
}

/** Drops trailing commas and "and" that belong to no item. */
function trimRun(sheet: Sheet, from: number, to: number): number {
  let end = to;
  while (end > from && (SEPARATORS.has(wordAt(sheet, end - 1) ?? '') || wordAt(sheet, end - 1) === '.'))
    end -= 1;
  return end;
}

/** Free text to the next statement, or (for remarks) to a semicolon or the end of the line. */
export function readTextField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'text');
  const quoted = sheet.tokens[at];
  if (quoted?.kind === 'quoted') return accept(field, quoted.text, at + 1, { correction });
  const end = trimRun(sheet, at, endOfRun(sheet, at, FIELDS[field].form === 'text'));
  return end === at
    ? failure('no-value', at)
    : accept(field, textBetween(sheet, at, end), end, { correction });
}

/** "two beetles and grit": items between commas and "and"; a quoted item is taken as it is. */
export function readItemsField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'text');
  const end = trimRun(sheet, at, endOfRun(sheet, at, true));
  const items: string[] = [];
  let itemStart = at;
  for (let next = at; next <= end; next += 1) {
    if (next < end && !SEPARATORS.has(wordAt(sheet, next) ?? '')) continue;
    const only = next === itemStart + 1 ? sheet.tokens[itemStart] : undefined;
    const item = only?.kind === 'quoted' ? only.text : textBetween(sheet, itemStart, next);
    if (item !== '') items.push(item);
    itemStart = next + 1;
  }
  return items.length > 0 ? accept(field, items, end, { correction }) : failure('no-value', at);
}

const tissueKinds = () => spokenChoices(FIELDS.tissueVials.choices);

/** Tissues up to the first that is none or comes again. */
function readKinds(sheet: Sheet, at: number): { kinds: string[]; next: number } {
  const kinds: string[] = [];
  let end = at;
  let next = at;
  for (;;) {
    const found = matchLongest(sheet, next, tissueKinds());
    if (!found || kinds.includes(found.id)) break;
    kinds.push(found.id);
    end = next + found.words.length;
    next = skipSeparators(sheet, end);
    if (next === end) break;
  }
  return { kinds, next: end };
}

/** The numbers after "vial" or "vials": "two", "one and two". */
function readVialNumbers(sheet: Sheet, at: number): { numbers: number[]; next: number } {
  const numbers: number[] = [];
  let end = at;
  let next = wordAt(sheet, at) === 'number' ? at + 1 : at;
  for (;;) {
    const number = readNumber(sheet.tokens, next);
    if (number === null || number === 'ambiguous') break;
    numbers.push(number.value);
    end = number.next;
    next = skipSeparators(sheet, end);
    if (next === end) break;
  }
  return { numbers: [...new Set(numbers)], next: end };
}

const VIAL_WORDS = [['vial'], ['vials'], ['tube'], ['tubes']];

/** "liver and heart in vial two", "muscle to vials one and two". */
export function readTissues(sheet: Sheet, at: number): Reading | null {
  const { kinds, next } = readKinds(sheet, at);
  if (kinds.length === 0 || !['in', 'into', 'to'].includes(wordAt(sheet, next) ?? '')) return null;
  const place = next + 1 + matchWords(sheet, next + 1, ['the']);
  const vialWord = VIAL_WORDS.find((words) => matchWords(sheet, place, words) > 0);
  if (!vialWord) return null;
  const vials = readVialNumbers(sheet, place + 1);
  if (vials.numbers.length === 0) return failure('no-value', place + 1);
  return accept('tissueVials', asVials(vials.numbers, kinds), vials.next);
}

/** Vials are numbered 1 to 99 within a bird. */
const MOST_VIALS = 99;

/** "vial two liver and heart", and several of them: the form we print. */
export function readVialsField(sheet: Sheet, field: FieldId, from: number): Reading {
  const { at, correction } = skipToValue(sheet, from, 'number');
  const contents: BenchVial[] = [];
  let next = at;
  while (contents.length < MOST_VIALS) {
    const vials = readVialNumbers(sheet, next);
    const holds = matchWords(sheet, vials.next, ['holds']) || matchWords(sheet, vials.next, [':']);
    const tissues = readKinds(sheet, vials.next + holds);
    if (vials.numbers.length === 0 || tissues.kinds.length === 0) break;
    contents.push(...asVials(vials.numbers, tissues.kinds));
    next = tissues.next;
    const more = next + matchWords(sheet, next, [',']);
    if (matchWords(sheet, more, ['vial']) === 0 || more === next) break;
    next = more + 1;
  }
  return contents.length > 0 ? accept(field, contents, next, { correction }) : failure('no-value', at);
}

const asVials = (numbers: readonly number[], kinds: readonly string[]): BenchVial[] =>
  numbers.map((vial) => ({ vial, kinds: [...kinds] as BenchVial['kinds'] }));
