import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { DEFAULT_TEMPLATES } from '@/lib/platform/numbers';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { isHidden, placeDetail, searchRights } from '../policy';
import { QUERY_FIELDS } from '../query/fields';
import { parseQuery } from '../query/parse';
import type { QueryProblem, QueryTerm } from '../query/schema';
import type { QueryContext } from '../query/words';
import { findNames } from '../repo/review';
import { compileQuery } from '../repo/search/compile';
import { resolveQuery, type SearchScope } from '../repo/search/resolve';
import { countFacets, type FacetCount, type FoundRow, findRows } from '../repo/search/search';
import { findSearchSettings } from '../repo/views';
import { sexSchema } from '../schema';
import {
  FACETS,
  type FacetId,
  type FindAnswer,
  type SearchAnswer,
  type SearchQuery,
  type SearchRow,
} from '../search-wire';

/** Facets and the number of hits are counted over at most so many. */
export const COUNTED_TO = 10_000;

const scopeOf = (actor: Actor): SearchScope => ({
  ...searchRights(actor),
  collectionId: actor.collectionId,
  placeExact: may(actor, 'place.exact'),
});

async function contextOf(collectionId: string): Promise<QueryContext> {
  const settings = await findSearchSettings(collectionId);
  return {
    numberTemplates: Object.values({ ...DEFAULT_TEMPLATES, ...settings.numbers }),
    hemisphere: settings.hemisphere,
  };
}

/** What the builder reads the box with, as the search itself does, and the fields that this reader may ask by. */
export async function describeSearch(
  actor: Actor,
): Promise<{ context: QueryContext; fields: QueryTerm['field'][] }> {
  authorise(actor, 'catalogue.see');
  const rights = searchRights(actor);
  return {
    context: await contextOf(actor.collectionId),
    fields: QUERY_FIELDS.filter((field) => !isHidden(field, rights)),
  };
}

/** Reads the box and compiles it for this reader. */
export async function readSearch(actor: Actor, text: string) {
  authorise(actor, 'catalogue.see');
  const { query, problems } = parseQuery(text, await contextOf(actor.collectionId));
  const scope = scopeOf(actor);
  const resolved = await resolveQuery(query, scope);
  const all: QueryProblem[] = [...problems, ...resolved.problems];
  return { where: compileQuery(query, scope, resolved), scope, problems: all, readAs: resolved.readAs };
}

/** Finds birds by one box: a page of rows, and on the first page how many there are and what they have in common. */
export async function searchCatalogue(actor: Actor, query: SearchQuery): Promise<SearchAnswer> {
  const { where, scope, problems, readAs } = await readSearch(actor, query.q);
  const isFirst = query.after === undefined;
  const [found, counts] = await Promise.all([
    findRows(where, query),
    isFirst ? countFacets(where, COUNTED_TO + 1, !scope.approvedOnly) : null,
  ]);
  const { rows, next } = cutPage(found, query.size, ({ sortKey, birdId }) => writeCursor([sortKey, birdId]));
  const names = await findNames(db(), [
    ...rows.map(({ preparatorId }) => preparatorId),
    ...(counts ?? []).flatMap(({ facet, value }) => (facet === 'preparator' ? [value] : [])),
  ]);
  return {
    rows: rows.map((row) => toRow(row, actor, names)),
    next,
    total: counts === null ? null : (counts.find(({ facet }) => facet === 'total')?.count ?? 0),
    countedTo: COUNTED_TO,
    facets: counts === null ? null : FACETS.map((id) => ({ id, values: facetValues(id, counts, names) })),
    problems,
    readAs,
  };
}

/** The few best hits for the box in every page's head. */
export async function findQuickly(actor: Actor, q: string): Promise<FindAnswer> {
  const { where } = await readSearch(actor, q);
  const rows = await findRows(where, { sort: '-number', size: 7 });
  const hits = rows.map((row) => toRow(row, actor, new Map()));
  return {
    hits: hits.map(({ birdId, number, catalogueNumber, scientificName, commonName, stage }) => ({
      birdId,
      number,
      catalogueNumber,
      scientificName,
      commonName,
      stage,
    })),
  };
}

/** A row as far as this reader may see it. */
export function toRow(row: FoundRow, actor: Actor, names: ReadonlyMap<string, string>): SearchRow {
  const { taxonName, sensitive, preparatorId, sortKey: _, ...rest } = row;
  const detail = placeDetail(actor, sensitive);
  return {
    ...rest,
    scientificName: taxonName,
    sex: sexSchema.parse(row.sex),
    foundFrom: dayOf(row.foundFrom),
    foundTo: dayOf(row.foundTo),
    county: detail === 'state' ? null : row.county,
    locality: detail === 'exact' ? row.locality : null,
    preparator: preparatorId === null ? null : (names.get(preparatorId) ?? null),
    preparedOn: row.preparedOn && dayOf(row.preparedOn),
    approvedOn: row.approvedOn && dayOf(row.approvedOn),
  };
}

/** The values of a facet, most frequent first, named as the search box names them; months in their order. */
function facetValues(id: FacetId, counts: readonly FacetCount[], names: ReadonlyMap<string, string>) {
  const own = counts.flatMap(({ facet, value, count }) => {
    if (facet !== id || value === null || value === '') return [];
    const name = id === 'preparator' ? names.get(value) : value;
    return name === undefined ? [] : [{ value: name, label: name, count }];
  });
  return id === 'month'
    ? own.sort((a, b) => Number(a.value) - Number(b.value))
    : own.sort((a, b) => b.count - a.count || a.label.localeCompare(b.label));
}
