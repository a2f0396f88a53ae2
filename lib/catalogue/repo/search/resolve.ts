import 'server-only';
import { isHidden, type SearchRights } from '../../policy';
import type { Query, QueryProblem, QueryTerm } from '../../query/schema';
import { findByNumber, findFinders, findLoaned, findPeople, findPermits, findTaxa } from './vocabulary';

/** Who searches, in what may be searched for them. */
export type SearchScope = SearchRights & {
  collectionId: string;
  /** Sees every exact place. */
  placeExact: boolean;
};

/** What the words of a query stand for, by field and text. */
export type Resolved = {
  ids: Map<string, string[]>;
  readAs: { text: string; as: string[] }[];
  problems: QueryProblem[];
};

export const keyOf = (field: string, text: string): string => `${field}\u0000${text}`;

function termsOf(query: Query | null): QueryTerm[] {
  if (query === null) return [];
  if (query.kind === 'term') return [query];
  if (query.kind === 'not') return termsOf(query.of);
  return query.of.flatMap(termsOf);
}

const textsOf = (term: QueryTerm): string[] =>
  'values' in term ? term.values : 'text' in term ? [term.text] : [];

/** The words of a phrase, where there are several. */
export const wordsOf = (text: string): string[] => {
  const words = text.split(/\s+/).filter((word) => word !== '');
  return words.length > 1 ? words : [];
};

/** Looks up every name and number of a query. */
export async function resolveQuery(query: Query | null, scope: SearchScope): Promise<Resolved> {
  const resolved: Resolved = { ids: new Map(), readAs: [], problems: [] };
  const { collectionId } = scope;
  const lookUp = async (field: string, text: string, find: () => Promise<string[]>) => {
    const key = keyOf(field, text);
    if (resolved.ids.has(key)) return;
    resolved.ids.set(key, []);
    resolved.ids.set(key, await find());
  };
  const taxa = (text: string) =>
    lookUp('taxon', text, async () => {
      const { ids, readAs } = await findTaxa(text);
      if (readAs.length > 0) resolved.readAs.push({ text, as: readAs });
      return ids;
    });
  const people = (text: string) => lookUp('person', text, () => findPeople(collectionId, text));
  const look: Partial<Record<QueryTerm['field'], (text: string) => Promise<unknown>>> = {
    taxon: taxa,
    person: people,
    preparator: people,
    finder: (text) => lookUp('finder', text, () => findFinders(collectionId, text)),
    permit: (text) => lookUp('permit', text, () => findPermits(collectionId, text)),
    loan: (text) => lookUp('loan', text, () => findLoaned(collectionId, text)),
    number: (text) => lookUp('number', text, () => findByNumber(collectionId, text)),
    words: (text) => resolveWords(text, taxa, people, resolved),
  };
  for (const term of termsOf(query)) {
    if (isHidden(term.field, scope)) {
      const message = `You may not search by ${term.field}.`;
      resolved.problems.push({ at: 0, length: 0, message });
      continue;
    }
    for (const text of textsOf(term)) await look[term.field]?.(text);
  }
  return resolved;
}

/** A phrase is looked up whole; only where it is no name as a whole, its words are too. */
async function resolveWords(
  text: string,
  taxa: (text: string) => Promise<unknown>,
  people: (text: string) => Promise<unknown>,
  resolved: Resolved,
): Promise<void> {
  await Promise.all([taxa(text), people(text)]);
  const isKnown = ['taxon', 'person'].some(
    (field) => (resolved.ids.get(keyOf(field, text)) ?? []).length > 0,
  );
  if (isKnown) return;
  await Promise.all(wordsOf(text).flatMap((word) => [taxa(word), people(word)]));
}
