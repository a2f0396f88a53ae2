'use client';

import { useId } from 'react';
import { currentLanguage } from '@/lib/platform/words/ambient-page';
import { wantsInches } from '@/lib/platform/words/inches';
import { INCHES_COOKIE, LANGUAGE_COOKIE, LANGUAGES } from '@/lib/platform/words/languages';
import { say } from '@/lib/platform/words/say';

const A_YEAR_S = 31_536_000;

/** Kept on this device; the page is loaded again, because all of it changes. */
function choose(cookie: string, value: string): void {
  // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store API is not in every browser
  document.cookie = `${cookie}=${value}; path=/; max-age=${A_YEAR_S}; samesite=lax`;
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
          <input
            type="radio"
            name={name}
            checked={language === current}
            onChange={() => choose(LANGUAGE_COOKIE, language)}
          />
          {label}
        </label>
      ))}
    </fieldset>
  );
}

/** Whether measures are shown in inches and ounces beside the metric figure, which alone is recorded. */
export function InchesChoice({ className }: { className?: string }) {
  const shown = wantsInches();
  return (
    <fieldset className={className}>
      <legend>{say('Measures')}</legend>
      <label>
        <input
          type="checkbox"
          checked={shown}
          onChange={() => choose(INCHES_COOKIE, shown ? 'hidden' : 'shown')}
        />
        {say('Inches and ounces too')}
      </label>
    </fieldset>
  );
}
