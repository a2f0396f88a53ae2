import type { FacetId } from '../search-wire';
import { quoteValue, tokenize } from './tokens';

/** The field of the search box that each facet narrows by. */
const FACET_FIELD: Record<FacetId, string> = {
  stage: 'stage',
  family: 'taxon',
  material: 'material',
  sex: 'sex',
  month: 'month',
  county: 'county',
  preparator: 'preparator',
};

/** The term that a facet's value stands for, as it is written in the box. */
export const facetTerm = (facet: FacetId, value: string): string =>
  `${FACET_FIELD[facet]}:${quoteValue(value)}`;

type Piece = { from: number; to: number };

/** Where a term stands in the text, as a piece of its own outside all brackets; null when it does not. */
function findTerm(text: string, term: string): Piece | null {
  let depth = 0;
  const { tokens } = tokenize(text);
  for (const [index, token] of tokens.entries()) {
    if (token.type === 'open') depth += 1;
    else if (token.type === 'close') depth -= 1;
    const isExcluded = tokens[index - 1]?.type === 'not';
    const written = text.slice(token.at, token.at + token.length);
    if (depth === 0 && !isExcluded && written === term)
      return { from: token.at, to: token.at + token.length };
  }
  return null;
}

/** Whether a term narrows this text already. */
export const hasTerm = (text: string, term: string): boolean => findTerm(text, term) !== null;

/** The text with a term added to all of it, or taken away where it stands already. */
export function toggleTerm(text: string, term: string): string {
  const at = findTerm(text, term);
  if (at !== null) return `${text.slice(0, at.from)} ${text.slice(at.to)}`.replace(/\s+/g, ' ').trim();
  const whole = text.trim();
  if (whole === '') return term;
  const hasOr = tokenize(whole).tokens.some(({ type }) => type === 'or');
  return hasOr ? `(${whole}) ${term}` : `${whole} ${term}`;
}
