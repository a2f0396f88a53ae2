import { AsyncLocalStorage } from 'node:async_hooks';
import { cache } from 'react';
import type { Language } from './languages';

/** Says a sentence in the language of now; `again` does so for one that stood in it. */
export type SayAgain = (again: (sentence: string) => string) => string;
/** How to say again what was said, by how it read. */
export type SaidTexts = Map<string, SayAgain>;

type Speech = { language: Language; said: SaidTexts | null };

const STORAGE = Symbol.for('furcula.language');
type Shared = { [STORAGE]?: AsyncLocalStorage<Speech> };

/** One for the process: the framework loads this module once for its pages and once for its routes. */
function storage(): AsyncLocalStorage<Speech> {
  const shared = globalThis as Shared;
  shared[STORAGE] ??= new AsyncLocalStorage();
  return shared[STORAGE];
}

/** What the page being drawn has found out about its language. */
const page = cache((): { language: Language } => ({ language: 'en' }));

/** In which language words are now: as `inLanguage` said, else of the page being drawn, else English. */
export const currentLanguage = (): Language => storage().getStore()?.language ?? page().language;

/**
 * Runs work, and all that it waits for, in a language.
 * @param said takes what is said meanwhile, so that it can be said again in another one
 */
export const inLanguage = <T>(language: Language, work: () => T, said: SaidTexts | null = null): T =>
  storage().run({ language, said }, work);

export function rememberSaid(sentence: string, anew: SayAgain): void {
  storage().getStore()?.said?.set(sentence, anew);
}

export function setPageLanguage(language: Language): void {
  page().language = language;
}
