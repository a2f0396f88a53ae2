import { z } from 'zod';
import { printInterval } from './dates';
import type { MapBox, Query, QueryTerm } from './schema';
import { quoteValue } from './tokens';

const quotePhrase = (text: string) => `"${text.replace(/["\\]/g, '\\$&')}"`;

const printArea = ({ south, north, west, east }: MapBox): string => `${south}..${north}/${west}..${east}`;

/** A box as the term of the search box. */
export const printBox = (box: MapBox): string => `within:${printArea(box)}`;

/** What stands after the field's colon, before it is quoted. */
export function termValues(term: QueryTerm): string[] {
  switch (term.field) {
    case 'words':
    case 'number':
      return [term.text];
    case 'month':
      return printMonths(term.months);
    case 'quality':
      return [term.least === term.most ? String(term.least) : `${term.least}..${term.most}`];
    case 'bones':
      return [[term.elements.join('+'), term.side, term.state].filter((part) => part !== null).join('/')];
    case 'within':
      return [printArea(term)];
    case 'found':
    case 'received':
    case 'prepared':
    case 'catalogued':
      return [printInterval(term)];
    default:
      return term.values;
  }
}

const printTerm = (term: QueryTerm): string =>
  term.field === 'words'
    ? quotePhrase(term.text)
    : `${term.field}:${termValues(term).map(quoteValue).join(',')}`;

/** 3, 4, 5 as "3..5"; others listed. */
function printMonths(months: readonly number[]): string[] {
  const [first = 1] = months;
  const last = months.at(-1) ?? first;
  const isRun = months.length > 1 && last - first + 1 === months.length;
  return isRun ? [`${first}..${last}`] : months.map(String);
}

/** The filter as text that `parseQuery` reads as the same filter: what stands in the box and the address bar. */
export function printQuery(query: Query | null): string {
  if (query === null) return '';
  switch (query.kind) {
    case 'term':
      return printTerm(query);
    case 'not':
      return `-${query.of.kind === 'term' ? printTerm(query.of) : `(${printQuery(query.of)})`}`;
    case 'and':
      return query.of
        .map((part) => (part.kind === 'or' ? `(${printQuery(part)})` : printQuery(part)))
        .join(' ');
    case 'or':
      return query.of.map(printQuery).join(' or ');
  }
}

/** What an address of the search page says, beside the filter's text. */
export const searchStateSchema = z.object({
  q: z.string().max(2000).catch(''),
  /** Column, with a dash before it for descending. */
  sort: z
    .string()
    .regex(/^-?[a-z][a-zA-Z]*$/)
    .optional()
    .catch(undefined),
  columns: z
    .array(z.string().regex(/^[a-z][a-zA-Z]*$/))
    .optional()
    .catch(undefined),
  view: z.enum(['table', 'map', 'charts']).catch('table'),
});
export type SearchState = z.infer<typeof searchStateSchema>;

/** The search page's state as the query part of an address; defaults are left out. */
export function searchToParams(state: SearchState): URLSearchParams {
  const params = new URLSearchParams();
  if (state.q !== '') params.set('q', state.q);
  if (state.sort) params.set('sort', state.sort);
  if (state.columns && state.columns.length > 0) params.set('columns', state.columns.join(','));
  if (state.view !== 'table') params.set('view', state.view);
  return params;
}

/** Reads an address; what is not understood falls back to the defaults. */
export function searchFromParams(params: URLSearchParams): SearchState {
  return searchStateSchema.parse({
    q: params.get('q') ?? '',
    sort: params.get('sort') ?? undefined,
    columns: params.get('columns')?.split(',') ?? undefined,
    view: params.get('view') ?? 'table',
  });
}
