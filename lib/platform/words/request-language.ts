import 'server-only';
import { createHash } from 'node:crypto';
import { cookies, headers } from 'next/headers';
import { inLanguage, setPageLanguage } from './ambient-server';
import { catalogueOf, keepCatalogue } from './catalogues';
import es from './es.json';
import { chooseLanguage, LANGUAGE_COOKIE, type Language } from './languages';

keepCatalogue('es', es);

type Params = Promise<Record<string, string | string[] | undefined> | undefined>;
type Handler = (request: Request, context: { params: Params }) => Promise<Response>;

const COOKIE = new RegExp(`(?:^|;\\s*)${LANGUAGE_COOKIE}=(\\w+)`);

/** A route whose answers are in the language of whoever asks. Files are not: they are the same for everybody. */
export const inLanguageOfRequest =
  (handler: Handler): Handler =>
  (request, context) =>
    inLanguage(
      chooseLanguage(
        COOKIE.exec(request.headers.get('cookie') ?? '')?.[1],
        request.headers.get('accept-language'),
      ),
      () => handler(request, context),
    );

/** Has the page being drawn speak its reader's language. Called before a page's first word is read. */
export async function settlePageLanguage(): Promise<Language> {
  const [jar, sent] = await Promise.all([cookies(), headers()]);
  const language = chooseLanguage(jar.get(LANGUAGE_COOKIE)?.value, sent.get('accept-language'));
  setPageLanguage(language);
  return language;
}

const addresses = new Map<Language, string | null>();

/** Where the browser gets the words of a language, by their content; null for English, which needs none. */
export function wordsAddress(language: Language): string | null {
  const known = addresses.get(language);
  if (known !== undefined) return known;
  const catalogue = catalogueOf(language);
  const digest = createHash('sha256').update(JSON.stringify(catalogue) ?? '');
  const address =
    catalogue === undefined ? null : `/words/${language}.js?v=${digest.digest('hex').slice(0, 12)}`;
  addresses.set(language, address);
  return address;
}

/** The script that gives a browser the words of a language; null where there are none. */
export function wordsScript(language: Language): string | null {
  const catalogue = catalogueOf(language);
  if (catalogue === undefined) return null;
  const words = JSON.stringify({ [language]: catalogue });
  return `globalThis.furculaWords=Object.assign(globalThis.furculaWords??{},${words});\n`;
}
