import { createContext, use } from 'react';
import { hasCatalogues } from './catalogues';
import { isLanguage, type Language } from './languages';

/** The language of the page that the server draws; the browser reads it from the page itself. */
export const LanguageContext = createContext<Language>('en');

/** Only what writes says things again, and a page writes nothing. */
export function rememberSaid(
  _sentence: string,
  _anew: (again: (sentence: string) => string) => string,
): void {}

/** In which language words are now: of the page in a browser, of the page being drawn on the server, else English. */
export function currentLanguage(): Language {
  if (typeof document !== 'undefined') {
    const { lang } = document.documentElement;
    return isLanguage(lang) ? lang : 'en';
  }
  if (!hasCatalogues()) return 'en';
  try {
    return use(LanguageContext);
  } catch {
    // Words that no page asked for, as when a module is loaded.
    return 'en';
  }
}
