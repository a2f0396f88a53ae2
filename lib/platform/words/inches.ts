import { createContext, use } from 'react';

/** Whether the page that the server draws shows inches and ounces too; the browser reads it from the page itself. */
export const InchesContext = createContext(false);

/** International inch and avoirdupois ounce, exact by definition (1959; NIST SP 811, appendix B). */
const OLD_UNITS = {
  mm: { perUnit: 25.4, sign: 'in' },
  g: { perUnit: 28.349523125, sign: 'oz' },
} as const;

const DIGITS = 3;

/** '3.70 in' for 94 mm, '2.75 oz' for 78 g, to three figures; null for other units. */
export function inOldUnits(value: number, unit: string | null): string | null {
  if (unit !== 'mm' && unit !== 'g') return null;
  const { perUnit, sign } = OLD_UNITS[unit];
  return `${(value / perUnit).toPrecision(DIGITS)} ${sign}`;
}

/** A measure in inches or ounces, where the reader wants that beside the metric figure. Called while a page is drawn. */
export function besideMetric(value: unknown, unit: string | null): string | null {
  return typeof value === 'number' && wantsInches() ? inOldUnits(value, unit) : null;
}

export function wantsInches(): boolean {
  if (typeof document !== 'undefined') return document.documentElement.dataset.inches === 'shown';
  try {
    return use(InchesContext);
  } catch {
    // Not while a page is drawn, as in a test of a rule.
    return false;
  }
}
