import { type FieldUnit, roundToStep } from '@/lib/bench/catalogue/types';

interface SpokenUnit {
  to: FieldUnit;
  factor: number;
  /** A smaller unit that may follow: "2 lb 3 oz". */
  mayTake?: string;
}

/** Inch 25.4 mm and pound 453.59237 g are exact by definition (international yard and pound, 1959). */
const UNITS: Record<string, SpokenUnit> = {};
const define = (words: string, unit: SpokenUnit): void => {
  for (const word of words.split(' ')) UNITS[word] = unit;
};
define('mm millimetre millimetres millimeter millimeters mil mils', { to: 'mm', factor: 1 });
define('cm centimetre centimetres centimeter centimeters', { to: 'mm', factor: 10 });
define('metre metres meter meters', { to: 'mm', factor: 1000 });
define('in inch inches', { to: 'mm', factor: 25.4 });
define('g gr gram grams gramme grammes gm gms', { to: 'g', factor: 1 });
define('kg kilo kilos kilogram kilograms', { to: 'g', factor: 1000 });
define('oz ounce ounces', { to: 'g', factor: 28.349523125 });
define('lb lbs pound pounds', { to: 'g', factor: 453.59237, mayTake: 'oz' });
define('% percent pct', { to: '%', factor: 1 });

/** The unit that this word names, or null. */
export function findUnit(word: string | undefined): SpokenUnit | null {
  return word !== undefined && Object.hasOwn(UNITS, word) ? (UNITS[word] ?? null) : null;
}

/** May an amount in the second word follow one in the first? Only ounces after pounds. */
export function mayFollow(first: SpokenUnit, second: SpokenUnit): boolean {
  return first.mayTake !== undefined && UNITS[first.mayTake] === second;
}

/** Converts to the field's unit: converted values to a hundredth, others kept to a thousandth. */
export function convert(parts: readonly { value: number; unit: SpokenUnit }[]): number {
  const converted = parts.reduce((sum, { value, unit }) => sum + value * unit.factor, 0);
  const sameUnit = parts.every(({ unit }) => unit.factor === 1);
  return sameUnit ? roundToStep(converted) : Math.round(converted * 100) / 100;
}
