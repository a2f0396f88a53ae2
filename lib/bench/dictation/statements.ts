import {
  defaultScale,
  readBursaField,
  readDigitsField,
  readNumberField,
  readScoreField,
  readSizeField,
  readSkullField,
  spokenChoices,
} from '@/lib/bench/dictation/read-numbers';
import {
  readCodeField,
  readCodesField,
  readColourField,
  readItemsField,
  readTextField,
  readTissues,
  readVialsField,
} from '@/lib/bench/dictation/read-words';
import {
  accept,
  type Failure,
  failure,
  matchWords,
  type Reading,
  readMarker,
  type Sheet,
  wordAt,
} from '@/lib/bench/dictation/sheet';
import { SPOKEN } from '@/lib/bench/dictation/spoken';
import { phraseWords } from '@/lib/bench/dictation/tokens';
import { FIELD_IDS, FIELDS, type FieldId } from '@/lib/bench/fields';

interface Phrase {
  words: string[];
  field: FieldId;
  method: string | null;
}

/** Every spoken name of a field, by its first word, longest first. */
const PHRASES = buildPhrases();

function buildPhrases(): Map<string, Phrase[]> {
  const all: Phrase[] = FIELD_IDS.flatMap((field) => [
    ...SPOKEN[field].say.map((say) => ({ words: phraseWords(say), field, method: null })),
    ...Object.entries(SPOKEN[field].sayWithMethod ?? {}).flatMap(([method, says]) =>
      says.map((say) => ({ words: phraseWords(say), field, method })),
    ),
  ]);
  const index = new Map<string, Phrase[]>();
  for (const phrase of all.sort((a, b) => b.words.length - a.words.length)) {
    const first = phrase.words[0] ?? '';
    index.set(first, [...(index.get(first) ?? []), phrase]);
  }
  return index;
}

const phrasesAt = (sheet: Sheet, at: number): Phrase[] =>
  (PHRASES.get(wordAt(sheet, at) ?? '') ?? []).filter((phrase) => matchWords(sheet, at, phrase.words) > 0);

/** Reads the value of a field whose name has been read (or is known from the line before). */
export function readValue(sheet: Sheet, field: FieldId, at: number, method: string | null = null): Reading {
  switch (FIELDS[field].form) {
    case 'number':
      return readNumberField(sheet, field, at, method);
    case 'size':
      return readSizeField(sheet, field, at);
    case 'score':
      return readScoreField(sheet, field, at);
    case 'code':
      return readCodeField(sheet, field, at);
    case 'codes':
      return readCodesField(sheet, field, at);
    case 'digits':
      return readDigitsField(sheet, field, at);
    case 'colour':
      return readColourField(sheet, field, at);
    case 'items':
      return readItemsField(sheet, field, at);
    case 'skull':
      return readSkullField(sheet, field, at, readTextField);
    case 'bursa':
      return readBursaField(sheet, field, at);
    case 'vials':
      return readVialsField(sheet, field, at);
    default:
      return readTextField(sheet, field, at);
  }
}

/** Reads one whole statement that begins at this token; null when no field is named here. */
export function readStatement(sheet: Sheet, at: number): Reading | null {
  if (sheet.tokens[at]?.kind !== 'word') return null;
  const corrected = readCorrectedStatement(sheet, at);
  if (corrected) return corrected;
  const special = readTissues(sheet, at) ?? readSeenOrgans(sheet, at) ?? readBothTestes(sheet, at);
  if (special?.ok) return special;
  const named = readNamed(sheet, at);
  if (named?.ok) return named;
  return readPlumage(sheet, at) ?? readLoneSex(sheet, at) ?? named ?? special ?? null;
}

/** Tries every field that this phrase may name; the failure that says most is kept. */
function readNamed(sheet: Sheet, at: number): Reading | null {
  let worst: Failure | null = null;
  for (const phrase of phrasesAt(sheet, at)) {
    const reading = readValue(sheet, phrase.field, at + phrase.words.length, phrase.method);
    if (reading.ok) return reading;
    if (!worst || worst.reason === 'no-value') worst = reading;
  }
  return worst;
}

const SEEN = ['seen', 'found', 'noted', 'visible', 'detected', 'present'];

/** "no bursa", "no parasites found" mean none; "no, tail 72.5" and "no fat two" correct. */
function readCorrectedStatement(sheet: Sheet, at: number): Reading | null {
  if (wordAt(sheet, at) === 'no') {
    const phrase = phrasesAt(sheet, at + 1)[0];
    const statement = sheet.statements[at + 1];
    if (phrase && (statement?.ok !== true || FIELDS[phrase.field].form === 'items')) {
      const next = at + 1 + phrase.words.length;
      const none = readNone(sheet, phrase.field, next + (SEEN.includes(wordAt(sheet, next) ?? '') ? 1 : 0));
      if (none) return none;
    }
  }
  const next = readMarker(sheet, at, 'number');
  const statement = next === null ? null : sheet.statements[next];
  return statement?.ok ? { ...statement, correction: true } : null;
}

function readNone(sheet: Sheet, field: FieldId, next: number): Reading | null {
  const spec = FIELDS[field];
  switch (spec.form) {
    case 'score':
      return accept(field, { score: 0, scale: defaultScale(sheet, field) }, next);
    case 'bursa':
      return accept(field, { state: 'none' }, next);
    case 'items':
      return accept(
        field,
        [field === 'stomachContents' || field === 'cropContents' ? 'empty' : 'none'],
        next,
      );
    case 'codes':
      return accept(field, ['none-found'], next);
    case 'code':
      return spec.choices.some((choice) => choice.id === 'none') ? accept(field, 'none', next) : null;
    default:
      return null;
  }
}

const BOTH_TESTES = ['left-testis', 'right-testis'];
const BOTH_OVARIES = ['left-ovary', 'right-ovary'];
const SEVERAL: [string, string[]][] = [
  ['both testes', BOTH_TESTES],
  ['two testes', BOTH_TESTES],
  ['testes', BOTH_TESTES],
  ['both ovaries', BOTH_OVARIES],
  ['two ovaries', BOTH_OVARIES],
  ['paired ovaries', BOTH_OVARIES],
];

/** "left ovary seen", "testes seen". */
function readSeenOrgans(sheet: Sheet, at: number): Reading | null {
  const several = SEVERAL.map(([say, ids]) => ({ ids, words: say.split(' ') }));
  const single = spokenChoices(FIELDS.organsSeen.choices).map(({ id, words }) => ({ ids: [id], words }));
  for (const { ids, words } of [...several, ...single]) {
    const length = matchWords(sheet, at, words);
    if (length && SEEN.includes(wordAt(sheet, at + length) ?? '')) {
      return accept('organsSeen', ids, at + length + 1);
    }
  }
  return null;
}

/** "both testes 9 by 6" fills both sides. */
function readBothTestes(sheet: Sheet, at: number): Reading | null {
  const length = matchWords(sheet, at, ['both', 'testes']);
  if (!length) return null;
  const left = readValue(sheet, 'leftTestis', at + length);
  const right = readValue(sheet, 'rightTestis', at + length);
  return left.ok && right.ok ? { ...left, items: [...left.items, ...right.items] } : left;
}

/** "male plumage", "juvenile plumage". */
function readPlumage(sheet: Sheet, at: number): Reading | null {
  for (const field of ['plumageSex', 'plumageAge'] as const) {
    for (const { id, words } of spokenChoices(FIELDS[field].choices)) {
      const length = matchWords(sheet, at, [...words, 'plumage']);
      if (length) return accept(field, id, at + length);
    }
  }
  return null;
}

/** "female" alone is the sex, but only where a new statement may begin. */
function readLoneSex(sheet: Sheet, at: number): Reading | null {
  const word = wordAt(sheet, at);
  if (word !== 'female' && word !== 'male') return null;
  const reading = accept('sex', word, at + 1);
  return reading.ok ? { ...reading, bare: true } : reading;
}

/** "right 8 by 5" after the left organ: the other side of the organ named last. */
export function readOtherSide(sheet: Sheet, at: number, last: FieldId | undefined): Reading | null {
  const side = wordAt(sheet, at);
  if (side !== 'left' && side !== 'right') return null;
  const organ = last === undefined ? null : ORGAN_SIDES[last];
  return organ ? readValue(sheet, organ[side], at + 1) : null;
}

const TESTES = { left: 'leftTestis', right: 'rightTestis' } as const;
const OVARIES = { left: 'leftOvary', right: 'rightOvary' } as const;
const ORGAN_SIDES: Partial<Record<FieldId, { left: FieldId; right: FieldId }>> = {
  leftTestis: TESTES,
  rightTestis: TESTES,
  leftOvary: OVARIES,
  rightOvary: OVARIES,
};

/** A correction without a field name: "no 72.5" after the tail. */
export function readCorrectedValue(sheet: Sheet, at: number, last: FieldId | undefined): Reading | null {
  const next = readMarker(sheet, at, 'number');
  if (next === null) return null;
  if (last === undefined) return failure('no-value', next);
  const reading = readValue(sheet, last, next);
  return reading.ok ? { ...reading, correction: true } : reading;
}
