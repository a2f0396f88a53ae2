/** Stands in a line where what would be offered there was taken before it was known what that is. */
export const TAKEN = '→';

/**
 * The line with what was taken in it written out: "→78.2→128" is "mass 78.2 wing 128" where mass and then wing come next.
 * @param offer what goes on with a text, to be put at its end as it stands; null when nothing is sure
 */
export function spellOut(line: string, offer: (text: string) => string | null): string {
  return line.split(TAKEN).reduce((said, part) => said + (offer(said) ?? '') + part);
}
