import { say } from '@/lib/platform/words/say';

/** Deeper than any shape of ours; values of any shape (a record's content) are bounded by it. */
const DEEPEST = 32;

/**
 * What no text that a person writes holds and the database cannot keep: control characters but tab and line ends, and
 * halves of characters (lone surrogates).
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones that are looked for.
const UNFIT = /[\u0000-\u0008\u000b\u000c\u000e-\u001f]|\p{Surrogate}/u;

/** Why a value from outside cannot be taken, whatever its shape should be: the path to it and a sentence; null when it can. */
export function unfitPart(
  value: unknown,
  path: readonly (string | number)[] = [],
): { path: string; message: string } | null {
  const here = path.join('.');
  if (typeof value === 'string') {
    return UNFIT.test(value)
      ? {
          path: here,
          message: say('This text holds a control character. Type it again instead of pasting it.'),
        }
      : null;
  }
  if (value === null || typeof value !== 'object') return null;
  if (path.length >= DEEPEST)
    return {
      path: path.slice(0, 3).join('.'),
      message: say('Values lie more than {deepest} deep in each other here.', { deepest: DEEPEST }),
    };
  for (const [key, inner] of Object.entries(value)) {
    const unfit = UNFIT.test(key)
      ? { path: here, message: say('A name here holds a control character.') }
      : unfitPart(inner, [...path, key]);
    if (unfit !== null) return unfit;
  }
  return null;
}
