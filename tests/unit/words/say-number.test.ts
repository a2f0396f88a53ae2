import fc from 'fast-check';
import { expect, it, vi } from 'vitest';
import { inLanguage } from '@/lib/platform/words/ambient-server';
import type { Language } from '@/lib/platform/words/languages';
import { sayNumber } from '@/lib/platform/words/say-number';

vi.mock('#ambient-language', () => import('@/lib/platform/words/ambient-server'));

const LOCALES: Record<Language, string> = { en: 'en-GB', es: 'es' };

// Outside the project: Intl.NumberFormat (ECMA-402) with the Unicode CLDR's data, as Node.js brings them.
it.each(Object.entries(LOCALES))('writes numbers in %s as Intl.NumberFormat does', (language, locale) => {
  const value = fc.oneof(
    fc.double({ min: -1e9, max: 1e9, noNaN: true }),
    fc.double({ min: -20_000, max: 20_000, noNaN: true }),
    fc.integer({ min: -2_000_000, max: 2_000_000 }),
    fc.tuple(fc.integer({ min: -1e6, max: 1e6 }), fc.constantFrom(2, 8, 10, 1000)).map(([a, b]) => a / b),
  );
  const decimals = fc.option(fc.integer({ min: 0, max: 6 }), { nil: undefined });
  fc.assert(
    fc.property(value, decimals, (number, digits) => {
      const format = new Intl.NumberFormat(locale, {
        minimumFractionDigits: digits ?? 0,
        maximumFractionDigits: digits ?? 6,
        signDisplay: 'negative',
      });
      const said = inLanguage(language as Language, () => sayNumber(number, digits));
      expect(said).toBe(format.format(number).replace('-', '\u2212'));
    }),
    { numRuns: 2000 },
  );
});
