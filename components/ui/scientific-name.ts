/** How a scientific name is set: genus, species and subspecies in italics, everything else upright. */

export type NamePart = { text: string; italic: boolean };

/** Marks of rank, doubt and mixture that stay upright inside a name (common practice, no source). */
const UPRIGHT = new Set([
  'sp.',
  'spp.',
  'ssp.',
  'subsp.',
  'var.',
  'f.',
  'cf.',
  'aff.',
  'nr.',
  'indet.',
  'hybrid',
  'x',
  '×',
  'or',
  '/',
]);

/** Endings of names above the genus: family, subfamily, tribe, order (ICZN article 29.2; orders by custom). */
const ABOVE_GENUS = /^[A-Z][a-z]+(idae|inae|ini|iformes|oidea)$/;
const EPITHET = /^[a-z][a-z-]+$/;
const GENUS = /^(\([A-Z][a-z-]+\)|[A-Z][a-z-]+|[A-Z]\.)$/;

/**
 * Splits a scientific name into parts to set upright or in italics. A genus name that ends like a tribe (-ini) is set
 * upright only when it stands alone. What follows the epithets (an authority, a year) is upright.
 */
export function splitScientificName(name: string): NamePart[] {
  const words = name.trim().split(/\s+/).filter(Boolean);
  const alone = words.length === 1;
  let inAuthority = false;
  const parts: NamePart[] = [];
  words.forEach((word, index) => {
    const upright = UPRIGHT.has(word);
    const italic =
      !upright && !inAuthority && !(alone && ABOVE_GENUS.test(word)) && isEpithetOrGenus(word, index, words);
    if (!upright && !italic) inAuthority = true;
    const last = parts.at(-1);
    if (last && last.italic === italic) last.text += ` ${word}`;
    else parts.push({ text: word, italic });
  });
  return parts;
}

/** A genus stands first, after a mark of mixture, or as a subgenus in brackets; all else in italics is an epithet. */
function isEpithetOrGenus(word: string, index: number, words: readonly string[]): boolean {
  if (EPITHET.test(word)) return true;
  if (!GENUS.test(word)) return false;
  if (index === 0) return true;
  const before = words[index - 1] ?? '';
  const subgenus = word.startsWith('(') && index === 1 && EPITHET.test(words[2] ?? '');
  return subgenus || ['x', '×', 'or', '/'].includes(before);
}
