import 'server-only';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { isHidden } from '../../policy';
import type { MapBox, Query, QueryTerm } from '../../query/schema';
import { isInBox, shownPoint } from './places';
import { keyOf, type Resolved, type SearchScope, wordsOf } from './resolve';
import { likeText } from './vocabulary';

const { sql, join, empty } = Prisma;
type Sql = Prisma.Sql;

const NOTHING = sql`FALSE`;
const uuids = (ids: readonly string[]): Sql => sql`${[...ids]}::uuid[]`;
const texts = (list: readonly string[]): Sql => sql`${[...list]}::text[]`;
const anyOf = (parts: readonly Sql[]): Sql =>
  parts.length === 0 ? NOTHING : sql`(${join([...parts], ' OR ')})`;
const allOf = (parts: readonly Sql[]): Sql => sql`(${join([...parts], ' AND ')})`;
const contains = (text: string): string => `%${likeText(text)}%`;

/** Materials that a bone's place names, so that "wings with a whole radius" looks for the bone in the wing. */
const PLACE_OF_KIND: Record<string, string> = {
  skin: 'skin',
  'flat-skin': 'skin',
  skeleton: 'skeleton',
  wing: 'wing',
  fluid: 'fluid',
  other: 'other',
};

type Compiler = { scope: SearchScope; resolved: Resolved };
const idsOf = ({ resolved }: Compiler, field: string, text: string) =>
  resolved.ids.get(keyOf(field, text)) ?? [];

/**
 * The condition of a filter over "CatalogueIndex" i. All text goes as parameters. What a reader may not see, they may
 * not find either: exact places, finders, loans.
 */
export function compileQuery(query: Query | null, scope: SearchScope, resolved: Resolved): Sql {
  const mine = sql`i."collectionId" = ${scope.collectionId}::uuid${
    scope.approvedOnly ? sql` AND i."approvedOn" IS NOT NULL` : empty
  }`;
  return query === null ? mine : sql`${mine} AND ${compile(query, { scope, resolved }, [])}`;
}

/** The same condition, for these birds only. */
export const onlyBirds = (where: Sql, birdIds: readonly string[]): Sql =>
  sql`${where} AND i."birdId" = ANY(${uuids(birdIds)})`;

function compile(query: Query, compiler: Compiler, places: readonly string[]): Sql {
  switch (query.kind) {
    case 'term':
      return compileTerm(query, compiler, places);
    case 'not':
      return sql`NOT ${compile(query.of, compiler, places)}`;
    case 'or':
      return anyOf(query.of.map((part) => compile(part, compiler, places)));
    case 'and': {
      const kinds = query.of.flatMap((part) =>
        part.kind === 'term' && part.field === 'material' ? part.values : [],
      );
      const own = kinds.flatMap((kind) => PLACE_OF_KIND[kind] ?? []);
      return allOf(query.of.map((part) => compile(part, compiler, own.length > 0 ? own : places)));
    }
  }
}

function compileTerm(term: QueryTerm, compiler: Compiler, places: readonly string[]): Sql {
  const { scope } = compiler;
  if (isHidden(term.field, scope)) return NOTHING;
  switch (term.field) {
    case 'words':
      return wordsCondition(term.text, compiler);
    case 'number':
      return numberCondition(term.text, compiler);
    case 'sex':
      return sql`i.sex = ANY(${texts(term.values)})`;
    case 'material':
      return sql`i.kinds && ${texts(term.values)}`;
    case 'custody':
      return sql`i.custodies && ${texts(term.values)}`;
    case 'month':
      return sql`i.months && ${term.months}::smallint[]`;
    case 'quality':
      return sql`i.qualities && ARRAY(SELECT generate_series(${term.least}::int, ${term.most}::int))::smallint[]`;
    case 'within':
      return withinCondition(term, scope);
    case 'bones':
      return bonesCondition(term, places);
    case 'found':
    case 'received':
    case 'prepared':
    case 'catalogued':
      return dateCondition(term);
    default:
      return anyOf(term.values.map((value) => textCondition(term.field, value, compiler)));
  }
}

type DateTerm = Extract<QueryTerm, { from: string | null }>;

function dateCondition({ field, from, to }: DateTerm): Sql {
  const [first, last] = {
    found: [sql`i."foundFrom"`, sql`i."foundTo"`],
    received: [sql`i."receivedOn"`, sql`i."receivedOn"`],
    prepared: [sql`i."preparedOn"`, sql`i."preparedOn"`],
    catalogued: [sql`i."approvedOn"`, sql`i."approvedOn"`],
  }[field] as [Sql, Sql];
  return allOf([
    ...(from === null ? [] : [sql`${last} >= ${from}::date`]),
    ...(to === null ? [] : [sql`${first} <= ${to}::date`]),
  ]);
}

/** Finds by the point that this reader is shown: a sensitive bird by the middle of its cell. */
const withinCondition = (box: MapBox, scope: SearchScope): Sql =>
  sql`EXISTS (SELECT 1 FROM (${shownPoint(scope)}) p WHERE ${isInBox(box)})`;

/** A missing element has no place: asked for by its state alone. */
function bonesCondition(
  { elements, side, state }: Extract<QueryTerm, { field: 'bones' }>,
  places: readonly string[],
): Sql {
  const isWhole = state === 'whole' ? sql` AND b.state = 'whole' AND b.portion = 'whole'` : empty;
  const inState = state === null || state === 'whole' ? isWhole : sql` AND b.state = ${state}`;
  const kept =
    state === 'missing'
      ? empty
      : places.length > 0
        ? sql` AND b.place = ANY(${texts(places)})`
        : sql` AND b.place = ANY(${texts(Object.values(PLACE_OF_KIND))})`;
  return sql`EXISTS (SELECT 1 FROM "BoneEntry" b WHERE b."birdId" = i."birdId"
    AND b.element = ANY(${texts(elements)})${side === null ? empty : sql` AND b.side = ${side}`}${inState}${kept}
    GROUP BY COALESCE(b."materialId"::text, b.place)${side === null ? empty : sql`, b.side`}
    HAVING count(DISTINCT b.element) = ${elements.length})`;
}

function numberCondition(text: string, compiler: Compiler): Sql {
  const exact = idsOf(compiler, 'number', text);
  if (exact.length > 0) return sql`i."birdId" = ANY(${uuids(exact)})`;
  const whole = sql`i.numbers LIKE ${`% ${likeText(text)} %`}`;
  if (/^\d{1,15}$/.test(text)) return anyOf([sql`i.running @> ARRAY[${text}::bigint]`, whole]);
  return text.length < 3 ? whole : sql`i.numbers LIKE ${contains(text)}`;
}

/** The widest place, that everybody may search; and the locality where this reader may see it. */
function placeCondition(text: string, { scope }: Compiler): Sql {
  const like = contains(text);
  const wide = sql`lower(i.country || ' ' || i."stateProvince" || ' ' || i.county) LIKE ${like}`;
  const locality = sql`lower(i.locality) LIKE ${like}`;
  if (scope.placeExact) return anyOf([wide, locality]);
  if (!scope.approvedOnly) return anyOf([wide, sql`(NOT i.sensitive AND ${locality})`]);
  const state = sql`lower(i.country || ' ' || i."stateProvince") LIKE ${like}`;
  return anyOf([sql`(NOT i.sensitive AND ${wide})`, state]);
}

const personCondition = (ids: readonly string[], { scope }: Compiler): Sql => {
  if (ids.length === 0) return NOTHING;
  return scope.approvedOnly
    ? sql`i."preparatorId" = ANY(${uuids(ids)})`
    : sql`i."workerIds" && ${uuids(ids)}`;
};

const taxonCondition = (ids: readonly string[]): Sql =>
  ids.length === 0 ? NOTHING : sql`i."taxonId" = ANY(${uuids(ids)})`;

type TextField = Extract<QueryTerm, { values: string[] }>['field'];

function textCondition(field: TextField, value: string, compiler: Compiler): Sql {
  const ids = (name: string) => idsOf(compiler, name, value);
  const word = value.toLowerCase().replaceAll(' ', '-');
  switch (field) {
    case 'taxon':
      return anyOf([
        taxonCondition(ids('taxon')),
        sql`(i."taxonId" IS NULL AND lower(i."taxonName") LIKE ${contains(value)})`,
      ]);
    case 'person':
      return personCondition(ids('person'), compiler);
    case 'preparator':
      return sql`i."preparatorId" = ANY(${uuids(ids('person'))})`;
    case 'finder':
      return sql`i."finderId" = ANY(${uuids(ids('finder'))})`;
    case 'permit':
      return sql`i."permitId" = ANY(${uuids(ids('permit'))})`;
    case 'loan':
      return sql`i."birdId" = ANY(${uuids(ids('loan'))})`;
    case 'place':
      return placeCondition(value, compiler);
    case 'county':
      return sql`(lower(i.county) = ${value.toLowerCase()}${compiler.scope.approvedOnly ? sql` AND NOT i.sensitive` : empty})`;
    case 'stage':
      return sql`(i.stage = ${word} OR i."carcassState" = ${word} OR ${word} = ANY(i."materialStates"))`;
    case 'age':
      return sql`i.age = ${word}`;
    case 'style':
      return sql`i."styleId" = ${word}`;
    case 'tissue':
      return sql`i.tissues @> ARRAY[${word}]`;
    case 'warning':
      return sql`i.warnings LIKE ${contains(value)}`;
    default:
      return NOTHING;
  }
}

/** Words among names, people, places and what was said of the find; each word somewhere, or the phrase as a whole. */
function wordsCondition(text: string, compiler: Compiler): Sql {
  const words = wordsOf(text);
  const whole = wordCondition(text, compiler);
  if (words.length === 0) return whole;
  return anyOf([whole, allOf(words.map((word) => wordCondition(word, compiler)))]);
}

function wordCondition(text: string, compiler: Compiler): Sql {
  const { scope } = compiler;
  const said = sql`i.words LIKE ${contains(text)}`;
  return anyOf([
    taxonCondition(idsOf(compiler, 'taxon', text)),
    personCondition(idsOf(compiler, 'person', text), compiler),
    placeCondition(text, compiler),
    // What was said of a find may name the place: found by those only who may know it.
    ...(scope.approvedOnly ? [] : [scope.placeExact ? said : sql`(NOT i.sensitive AND ${said})`]),
    ...(text.length >= 3 ? [sql`i.numbers LIKE ${contains(text)}`] : []),
  ]);
}
