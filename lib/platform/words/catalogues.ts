import type { Language } from './languages';

export type Catalogue = Readonly<Record<string, string>>;

/**
 * The catalogues of this process or page, in one place that the parts of the server and the browser's script share:
 * the file of a language is loaded by the server, and given to the browser as a script (app/words).
 */
type Shelf = { furculaWords?: Partial<Record<Language, Catalogue>> };
const shelf = globalThis as Shelf;

export const catalogueOf = (language: Language): Catalogue | undefined => shelf.furculaWords?.[language];

/** Whether there is any language but English. */
export const hasCatalogues = (): boolean => shelf.furculaWords !== undefined;

export function keepCatalogue(language: Language, catalogue: Catalogue): void {
  shelf.furculaWords = { ...shelf.furculaWords, [language]: catalogue };
}
