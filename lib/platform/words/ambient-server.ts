import { AsyncLocalStorage } from 'node:async_hooks';
import { cache } from 'react';
import type { Language } from './languages';

const STORAGE = Symbol.for('furcula.language');
type Shared = { [STORAGE]?: AsyncLocalStorage<Language> };

/** One for the process: the framework loads this module once for its pages and once for its routes. */
function storage(): AsyncLocalStorage<Language> {
  const shared = globalThis as Shared;
  shared[STORAGE] ??= new AsyncLocalStorage();
  return shared[STORAGE];
}

/** What the page being drawn has found out about its language. */
const page = cache((): { language: Language } => ({ language: 'en' }));

/** In which language words are now: as `inLanguage` said, else of the page being drawn, else English. */
export const currentLanguage = (): Language => storage().getStore() ?? page().language;

/** Runs work, and all that it waits for, in a language. */
export const inLanguage = <T>(language: Language, work: () => T): T => storage().run(language, work);

export function setPageLanguage(language: Language): void {
  page().language = language;
}
