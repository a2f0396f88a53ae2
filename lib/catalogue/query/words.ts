import { parseNumber } from '@/lib/platform/numbers';
import type { MaterialKind } from '@/lib/queue/schema';
import { type Hemisphere, isoInterval, monthNumber, monthsBetween, phraseRange, seasonMonths } from './dates';
import { joinQueries, type Query, type QueryTerm } from './schema';

/** What the reading of plain words depends on in an institution. */
export type QueryContext = { numberTemplates: readonly string[]; hemisphere: Hemisphere };

const SEX_WORDS: Record<string, 'female' | 'male'> = {
  female: 'female',
  females: 'female',
  '♀': 'female',
  male: 'male',
  males: 'male',
  '♂': 'male',
};
const KIND_WORDS: Record<string, MaterialKind> = {
  skin: 'skin',
  skins: 'skin',
  skeleton: 'skeleton',
  skeletons: 'skeleton',
  wing: 'wing',
  wings: 'wing',
  vial: 'vial',
  vials: 'vial',
  carcass: 'carcass',
  carcasses: 'carcass',
};

type Reading = { words: number; query: Query };

const found = (range: { from: string | null; to: string | null }): QueryTerm => ({
  kind: 'term',
  field: 'found',
  ...range,
});
const months = (list: number[]): QueryTerm => ({
  kind: 'term',
  field: 'month',
  months: [...list].sort((a, b) => a - b),
});

const lookUp = <T>(table: Record<string, T>, word: string): T | undefined =>
  Object.hasOwn(table, word) ? table[word] : undefined;

function readDates(words: readonly string[], { hemisphere }: QueryContext): Reading | null {
  for (const length of [3, 2, 1]) {
    const first = words.length >= length ? phraseRange(words.slice(0, length), hemisphere) : null;
    if (first === null) continue;
    const isRange = /^(to|until|through|–|-)$/i.test(words[length] ?? '');
    for (const more of isRange ? [3, 2, 1] : []) {
      const last = phraseRange(words.slice(length + 1, length + 1 + more), hemisphere);
      if (last !== null && first.from <= last.to)
        return { words: length + 1 + more, query: found({ from: first.from, to: last.to }) };
    }
    const [word = ''] = words;
    // Four figures may be a year or a specimen's number: both are looked for.
    const number: QueryTerm[] =
      length === 1 && /^\d{4}$/.test(word) ? [{ kind: 'term', field: 'number', text: word }] : [];
    const query = joinQueries('or', [found(first), ...number]);
    return query === null ? null : { words: length, query };
  }
  const [word = ''] = words;
  const interval = word.includes('..') ? isoInterval(word) : null;
  return interval === null ? null : { words: 1, query: found(interval) };
}

function readMonths(words: readonly string[], { hemisphere }: QueryContext): Reading | null {
  const [word = '', joint = '', other = ''] = words;
  const season = seasonMonths(word, hemisphere);
  if (season !== null) return { words: 1, query: months(season) };
  const first = monthNumber(word);
  if (first === null) return null;
  const last = /^(to|until|through|–|-)$/i.test(joint) ? monthNumber(other) : null;
  return last === null
    ? { words: 1, query: months([first]) }
    : { words: 3, query: months(monthsBetween(first, last)) };
}

function readNumber(words: readonly string[], { numberTemplates }: QueryContext): Reading | null {
  for (const length of [2, 1]) {
    if (words.length < length) continue;
    const text = words.slice(0, length).join(' ');
    const known = numberTemplates.flatMap((template) => parseNumber(template, text)?.canonical ?? []);
    const [canonical] = known;
    if (canonical !== undefined)
      return { words: length, query: { kind: 'term', field: 'number', text: canonical } };
  }
  const [word = ''] = words;
  return /\d/.test(word) ? { words: 1, query: { kind: 'term', field: 'number', text: word } } : null;
}

function readVocabulary([word = '']: readonly string[]): Reading | null {
  const text = word.toLowerCase();
  const sex = lookUp(SEX_WORDS, text);
  if (sex !== undefined) return { words: 1, query: { kind: 'term', field: 'sex', values: [sex] } };
  const kind = lookUp(KIND_WORDS, text);
  return kind === undefined ? null : { words: 1, query: { kind: 'term', field: 'material', values: [kind] } };
}

const READERS = [readDates, readMonths, readNumber, readVocabulary];

/**
 * Reads words that no field name precedes: dates, months and seasons, numbers, sexes, kinds of material; what is left
 * stands together as words to be looked for among names, people and places.
 */
export function readWords(words: readonly string[], context: QueryContext): Query | null {
  const parts: Query[] = [];
  let rest: string[] = [];
  const flush = () => {
    if (rest.length > 0) parts.push({ kind: 'term', field: 'words', text: rest.join(' ') });
    rest = [];
  };
  for (let at = 0; at < words.length; ) {
    const ahead = words.slice(at);
    const reading = READERS.reduce<Reading | null>((found, read) => found ?? read(ahead, context), null);
    if (reading === null) {
      rest.push(words[at] ?? '');
      at += 1;
    } else {
      flush();
      parts.push(reading.query);
      at += reading.words;
    }
  }
  flush();
  return joinQueries('and', parts);
}
