import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { DEFAULT_TEMPLATES } from '@/lib/platform/numbers';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { placeDetail, seesApprovedOnly } from '../policy';
import { parseQuery } from '../query/parse';
import type { QueryProblem } from '../query/schema';
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
  collectionId: actor.collectionId,
  approvedOnly: seesApprovedOnly(actor),
  placeExact: may(actor, 'place.exact'),
  seesFinders: may(actor, 'finder.see'),
  seesLoans: may(actor, 'loans.see'),
});

/** Reads the box and compiles it for this reader. */
export async function readSearch(actor: Actor, text: string) {
  authorise(actor, 'catalogue.see');
  const settings = await findSearchSettings(actor.collectionId);
  const { query, problems } = parseQuery(text, {
    numberTemplates: Object.values({ ...DEFAULT_TEMPLATES, ...settings.numbers }),
    hemisphere: settings.hemisphere,
  });
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
