import type { Token } from '@/lib/bench/dictation/tokens';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

export type NotUnderstoodReason =
  | 'unknown-words'
  | 'no-value'
  | 'ambiguous-number'
  | 'outside-limits'
  | 'unit-mismatch'
  | 'which-measure'
  | 'too-long';

/** What the page knows beside the line itself. */
export interface DictationContext {
  /** Field that the line before ended with: "no 72.5" then corrects it. */
  lastField?: FieldId | undefined;
  /** The lab's own scales for scores that are spoken without one. */
  scales?: Partial<Record<FieldId, string>> | undefined;
}

export interface Item {
  field: FieldId;
  value: FieldValue;
  method: string | null;
}

export interface Understood {
  ok: true;
  items: Item[];
  next: number;
  correction: boolean;
  /** A lone word like "female" counts only where a new statement may begin. */
  bare?: boolean;
}

export interface Failure {
  ok: false;
  reason: NotUnderstoodReason;
  next: number;
}

export type Reading = Understood | Failure;

/** The line being read. Statements are found from its end to its start, so a reader may look ahead. */
export interface Sheet {
  line: string;
  tokens: readonly Token[];
  statements: (Reading | null)[];
  context: DictationContext;
}

export const failure = (reason: NotUnderstoodReason, next: number): Failure => ({ ok: false, reason, next });

/** One value as a reading, if the catalogue accepts it; else "outside-limits". */
export function accept(
  field: FieldId,
  value: unknown,
  next: number,
  extra: { method?: string | null; correction?: boolean } = {},
): Reading {
  const parsed = FIELDS[field].value.safeParse(value);
  if (!parsed.success) return failure('outside-limits', next);
  const item = { field, value: parsed.data as FieldValue, method: extra.method ?? null };
  return { ok: true, items: [item], next, correction: extra.correction ?? false };
}

export const wordAt = (sheet: Sheet, at: number): string | undefined => {
  const token = sheet.tokens[at];
  return token && token.kind !== 'quoted' ? token.text : undefined;
};

/** Does a statement begin here (a lone sex word does not count)? */
export function startsStatement(sheet: Sheet, at: number): boolean {
  const reading = sheet.statements[at];
  return reading?.ok === true && !reading.bare;
}

/** Length in tokens of the phrase if it stands at this place, else 0. */
export function matchWords(sheet: Sheet, at: number, words: readonly string[]): number {
  return words.every((word, offset) => wordAt(sheet, at + offset) === word) ? words.length : 0;
}

/** The longest of the phrases that stands at this place. */
export function matchLongest<T extends { words: readonly string[] }>(
  sheet: Sheet,
  at: number,
  phrases: readonly T[],
): T | null {
  let best: T | null = null;
  for (const phrase of phrases) {
    if (matchWords(sheet, at, phrase.words) > (best?.words.length ?? 0)) best = phrase;
  }
  return best;
}

const STRONG = ['correction', 'sorry', 'i mean', 'i meant', 'make that', 'scratch that', 'strike that'];
const WEAK = ['no', 'nope'];
const BESIDE_NUMBERS = [
  'wait',
  'rather',
  'actually',
  'oops',
  'make it',
  'should be',
  'change to',
  'change that to',
];
const asWords = (phrases: string[]) => phrases.map((phrase) => ({ words: phrase.split(' ') }));
const MARKERS = {
  text: asWords(STRONG),
  colour: asWords([...STRONG, ...WEAK]),
  number: asWords([...STRONG, ...WEAK, ...BESIDE_NUMBERS]),
};
export type MarkerSet = keyof typeof MARKERS;

/** Nobody corrects more often in one breath; the bound keeps odd lines fast. */
const MOST_MARKERS = 6;

/** Reads "no", "sorry, make that", … and returns the place after it; null when there is none. */
export function readMarker(sheet: Sheet, at: number, set: MarkerSet): number | null {
  let next = at;
  for (let count = 0; count < MOST_MARKERS; count += 1) {
    const found = matchLongest(sheet, next, MARKERS[set]);
    if (!found) break;
    next += found.words.length;
    while (wordAt(sheet, next) === ',') next += 1;
  }
  return next === at ? null : next;
}

const FILLERS = new Set(
  "is was are were at of about around circa ca approx approximately roughly measures measuring reads equals the its it's seems looks score scores to = : ,".split(
    ' ',
  ),
);
const TEXT_FILLERS = new Set([
  'is',
  'are',
  'was',
  'were',
  'contains',
  'contained',
  'with',
  'has',
  '=',
  ':',
  ',',
]);

/** Skips what may stand between a field and its value: "is", "about", ":", a dash that is no minus sign. */
export function skipFillers(sheet: Sheet, at: number, text = false): number {
  let next = at;
  for (;;) {
    const word = wordAt(sheet, next);
    const token = sheet.tokens[next];
    const after = sheet.tokens[next + 1];
    const dash = (word === '-' || word === '–') && token && after && after.start > token.end;
    if (!dash && (word === undefined || !(text ? TEXT_FILLERS : FILLERS).has(word))) return next;
    next += 1;
  }
}

/** Skips fillers and correction marks before a value and says whether there was a correction. */
export function skipToValue(sheet: Sheet, at: number, set: MarkerSet): { at: number; correction: boolean } {
  const text = set !== 'number';
  let next = skipFillers(sheet, at, text);
  let correction = false;
  const after = readMarker(sheet, next, set);
  if (after !== null) {
    correction = true;
    next = skipFillers(sheet, after, text);
  }
  return { at: next, correction };
}

/** The text of tokens [from, to) as written, without hesitations and doubled blanks. */
export function textBetween(sheet: Sheet, from: number, to: number): string {
  let text = '';
  for (let at = from; at < to; at += 1) {
    const token = sheet.tokens[at];
    if (!token) break;
    const before = sheet.tokens[at - 1];
    if (at > from && before) {
      const gap = sheet.line.slice(before.end, token.start);
      text += /\p{L}/u.test(gap) ? ' ' : gap.replace(/\s+/g, ' ');
    }
    text += sheet.line.slice(token.start, token.end);
  }
  return text.trim();
}

/** Is there a hard break (semicolon or new line) before this token? */
export function breaksBefore(sheet: Sheet, at: number): boolean {
  const token = sheet.tokens[at];
  const before = sheet.tokens[at - 1];
  if (!token || wordAt(sheet, at) === ';') return true;
  return before !== undefined && /[\n\r]/.test(sheet.line.slice(before.end, token.start));
}
