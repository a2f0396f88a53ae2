'use client';

import { useId } from 'react';
import { currentLanguage } from '@/lib/platform/words/ambient-page';
import { isLanguage, LANGUAGE_COOKIE, LANGUAGES } from '@/lib/platform/words/languages';
import { say } from '@/lib/platform/words/say';

const A_YEAR_S = 31_536_000;

/** Kept on this device; the page is loaded again, because every word of it changes. */
function choose(language: string): void {
  if (!isLanguage(language)) return;
  // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store API is not in every browser
  document.cookie = `${LANGUAGE_COOKIE}=${language}; path=/; max-age=${A_YEAR_S}; samesite=lax`;
  window.location.reload();
}

/** In which language the screens speak; each is named in itself. */
export function LanguageChoice({ className }: { className?: string }) {
  const name = useId();
  const current = currentLanguage();
  return (
    <fieldset className={className}>
      <legend>{say('Language')}</legend>
      {Object.entries(LANGUAGES).map(([language, { name: label }]) => (
        <label key={language} lang={language}>
          <input type="radio" name={name} checked={language === current} onChange={() => choose(language)} />
          {label}
        </label>
      ))}
    </fieldset>
  );
}
