import { currentLanguage, rememberSaid } from '#ambient-language';
import { catalogueOf } from './catalogues';
import { sayNumber } from './say-number';

/** What stands nowhere (null, undefined) leaves its place empty. */
export type Values = Readonly<Record<string, string | number | null | undefined>>;

/** What stands after a bar tells equal English words apart for the translator, and is not shown. */
const withoutNote = (text: string) => text.replace(/\|[a-z -]+$/, '');

/** The translation of an English text, or the text itself: a word that is missing is better read in English than not. */
export function translate(text: string): string {
  const language = currentLanguage();
  const catalogue = language === 'en' ? undefined : catalogueOf(language);
  const found = catalogue !== undefined && Object.hasOwn(catalogue, text) ? catalogue[text] : undefined;
  const said = found ?? withoutNote(text);
  rememberSaid(said, () => translate(text));
  return said;
}

/**
 * A text in the language of the reader, `{name}` replaced by the value of that name. The English text is the key of
 * the catalogues (lib/platform/words/es.json): it must stand in the source as it is, so that a test can collect it.
 */
export function say(text: string, values?: Values): string {
  if (values === undefined) return translate(text);
  const said = fill(translate(text), values);
  rememberSaid(said, (again) => {
    const anew = Object.entries(values).map(([name, value]) => [
      name,
      typeof value === 'string' ? again(value) : value,
    ]);
    return fill(translate(text), Object.fromEntries(anew));
  });
  return said;
}

const fill = (text: string, values: Values): string =>
  text.replace(/\{(\w+)\}/g, (whole, name: string) =>
    Object.hasOwn(values, name) ? String(values[name] ?? '') : whole,
  );

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** 'on-the-bench' → 'On the bench', in English: the key of its translation, for a table given to `phrases`. */
export const wordOf = (code: string): string => capital(code.replaceAll('-', ' '));

/** 'on-the-bench' → 'On the bench': a stored word as a person reads it, alone. */
export const sayWord = (code: string): string => translate(wordOf(code));

/** 'on-the-bench' → 'on the bench': a stored word within a sentence. */
export function sayCode(code: string): string {
  const word = translate(wordOf(code));
  const said = word.charAt(0).toLowerCase() + word.slice(1);
  rememberSaid(said, () => sayCode(code));
  return said;
}

/** `1 bird`, `3 birds`; give the plural where it is not made with an s. */
export function countOf(count: number, one: string, many = `${one}s`): string {
  const said = translate(`{n} ${count === 1 ? one : many}`).replace('{n}', sayNumber(count));
  rememberSaid(said, () => countOf(count, one, many));
  return said;
}

/** Names of what a program reads or what is cited as it is written: all under them stays. */
export const CODE_NAMES: ReadonlySet<string> = new Set([
  'id',
  'key',
  'code',
  'kind',
  'type',
  'value',
  'href',
  'path',
  'icon',
  'source',
  'citation',
  'keys',
  'touchesAnyOf',
  'say',
  'sayWithMethod',
]);

/** Names of what is shown, also where it is one small word. */
export const SHOWN_NAMES: ReadonlySet<string> = new Set([
  'label',
  'title',
  'noun',
  'words',
  'more',
  'less',
  'age',
]);

/** A sentence or a word with a capital: what a person reads, and not a code. */
export const isPhrase = (text: string) => /^\p{Lu}|\s/u.test(text);

/**
 * A table of words whose texts are in the language of the reader whenever they are read: objects and lists are copied
 * with such texts at every depth; all else (codes, numbers, functions, schemas) stays what it is.
 * @param also further names under which one small word is shown
 */
export function phrases<T>(table: T, also: readonly string[] = []): T {
  return wrap(table, also) as T;
}

function wrap(value: unknown, also: readonly string[]): unknown {
  if (Array.isArray(value)) return copyInto([], value, also);
  if (typeof value !== 'object' || value === null || Object.getPrototypeOf(value) !== Object.prototype)
    return value;
  return copyInto({}, value, also);
}

function copyInto(target: object, table: object, also: readonly string[]): object {
  const into = target as Record<string, unknown>;
  for (const name of Object.keys(table)) {
    const property = Object.getOwnPropertyDescriptor(table, name);
    if (property === undefined) continue;
    const { value } = property;
    const isShown =
      typeof value === 'string' && (SHOWN_NAMES.has(name) || also.includes(name) || isPhrase(value));
    // A text of a table inside this one is read from there when it is asked for, not now.
    if (property.get !== undefined) Object.defineProperty(into, name, property);
    else if (CODE_NAMES.has(name)) into[name] = value;
    else if (!isShown) into[name] = wrap(value, also);
    else
      Object.defineProperty(into, name, {
        enumerable: true,
        configurable: true,
        get: () => translate(value),
      });
  }
  return target;
}
