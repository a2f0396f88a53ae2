/** The languages of the screens, with the marks of their numbers; thousands are parted from `parted` on. */
export const LANGUAGES = {
  en: { name: 'English', point: '.', thousands: ',', parted: 1_000 },
  es: { name: 'Español', point: ',', thousands: '.', parted: 10_000 },
} as const;

export type Language = keyof typeof LANGUAGES;

/** What is kept on a reader's device. */
export const LANGUAGE_COOKIE = 'furcula-language';
export const INCHES_COOKIE = 'furcula-inches';

export const isLanguage = (value: unknown): value is Language =>
  typeof value === 'string' && Object.hasOwn(LANGUAGES, value);

/**
 * The language somebody chose, else the first of their browser's that there is, else English.
 * @param accepted the Accept-Language header (RFC 9110 section 12.5.4); weights of 0 refuse
 */
export function chooseLanguage(chosen: string | undefined, accepted: string | null): Language {
  if (isLanguage(chosen)) return chosen;
  const wanted = (accepted ?? '')
    .split(',')
    .map((range) => {
      const [tag = '', ...parts] = range.trim().toLowerCase().split(';');
      const weight = parts.map((part) => /^\s*q=([\d.]+)$/.exec(part)?.[1]).find(Boolean);
      return { base: tag.split('-')[0], weight: weight === undefined ? 1 : Number(weight) };
    })
    .filter(({ weight }) => weight > 0)
    .sort((a, b) => b.weight - a.weight);
  return wanted.map(({ base }) => base).find(isLanguage) ?? 'en';
}
