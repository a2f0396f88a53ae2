import type { Place } from '../places';

/** Small letters without accents. */
const fold = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase();
const wordsOf = (text: string): string[] =>
  fold(text)
    .split(/[^\p{Letter}\p{Number}]+/u)
    .filter(Boolean);

/** How well an entry fits, 0 best; null when a word that was typed begins none of its words. */
function fitOf({ label, also }: Place, typed: readonly string[], whole: string): number | null {
  const own = wordsOf(label);
  const others = also.flatMap(wordsOf);
  const begins = (words: readonly string[]) => (part: string) => words.some((word) => word.startsWith(part));
  if (!typed.every(begins([...own, ...others]))) return null;
  if (fold(label).startsWith(whole)) return 0;
  if (typed.every(begins(own))) return 1;
  return typed.some(begins(own)) ? 2 : 3;
}

/**
 * The entries that fit what was typed, the best first, each once: every typed word must begin a word of the label or of
 * the other words; the label's own words come before the others. Nothing typed: all, as they are.
 */
export function filterPlaces(places: readonly Place[], text: string): Place[] {
  const typed = wordsOf(text);
  if (typed.length === 0) return text.trim() === '' ? [...places] : [];
  const whole = fold(text.trim());
  return places
    .flatMap((place) => {
      const fit = fitOf(place, typed, whole);
      return fit === null ? [] : [{ place, fit }];
    })
    .sort((a, b) => a.fit - b.fit)
    .map(({ place }) => place);
}
