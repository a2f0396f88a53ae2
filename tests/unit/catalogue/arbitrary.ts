import fc from 'fast-check';
import {
  BONE_SIDES,
  BONE_STATES,
  DATE_FIELDS,
  joinQueries,
  type Query,
  type QueryTerm,
  TEXT_FIELDS,
} from '@/lib/catalogue/query/schema';
import { SEXES } from '@/lib/catalogue/schema';
import { CUSTODY_STATES, MATERIAL_KINDS } from '@/lib/queue/schema';

export const phrase = fc
  .string({ minLength: 1, maxLength: 20, unit: 'grapheme' })
  .map((text) => text.trim())
  .filter((text) => text !== '');
const day = fc
  .date({ min: new Date('1900-01-01'), max: new Date('2099-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
/** Any term of the search. */
export const term: fc.Arbitrary<QueryTerm> = fc.oneof(
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constantFrom(...TEXT_FIELDS),
    values: fc.array(phrase, { minLength: 1, maxLength: 3 }),
  }),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constantFrom('number' as const, 'words' as const),
    text: phrase,
  }),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constant('sex' as const),
    values: fc.uniqueArray(fc.constantFrom(...SEXES), { minLength: 1 }),
  }),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constant('material' as const),
    values: fc.uniqueArray(fc.constantFrom(...MATERIAL_KINDS), { minLength: 1 }),
  }),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constant('custody' as const),
    values: fc.uniqueArray(fc.constantFrom(...CUSTODY_STATES), { minLength: 1 }),
  }),
  fc
    .record({
      field: fc.constantFrom(...DATE_FIELDS),
      days: fc.tuple(day, day),
      open: fc.constantFrom('none', 'from', 'to'),
    })
    .map(({ field, days, open }) => {
      const [from = '', to = ''] = [...days].sort();
      return {
        kind: 'term' as const,
        field,
        from: open === 'from' ? null : from,
        to: open === 'to' ? null : to,
      };
    }),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constant('month' as const),
    months: fc
      .uniqueArray(fc.integer({ min: 1, max: 12 }), { minLength: 1 })
      .map((list) => list.sort((a, b) => a - b)),
  }),
  fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 })).map(([a, b]) => ({
    kind: 'term' as const,
    field: 'quality' as const,
    least: Math.min(a, b),
    most: Math.max(a, b),
  })),
  fc.record({
    kind: fc.constant('term' as const),
    field: fc.constant('bones' as const),
    elements: fc.uniqueArray(fc.constantFrom('radius', 'ulna', 'humerus', 'rib-1'), { minLength: 1 }),
    side: fc.option(fc.constantFrom(...BONE_SIDES)),
    state: fc.option(fc.constantFrom(...BONE_STATES)),
  }),
  fc
    .tuple(...[90, 90, 180, 180].map((most) => fc.integer({ min: -most * 10_000, max: most * 10_000 })))
    .map((parts) => parts.map((part) => part / 10_000 + 0))
    .filter(([a, b, c, d]) => a !== b && c !== d)
    .map(([a = 0, b = 0, c = 0, d = 0]) => ({
      kind: 'term' as const,
      field: 'within' as const,
      south: Math.min(a, b),
      north: Math.max(a, b),
      west: Math.min(c, d),
      east: Math.max(c, d),
    })),
);
/** Filters as the box reads them: joins of two or more, none directly within one of its own kind, no double not. */
export const query: fc.Arbitrary<Query> = fc.letrec<{ query: Query; term: QueryTerm }>((tie) => ({
  term,
  query: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    tie('term'),
    fc
      .tuple(
        fc.constantFrom('and' as const, 'or' as const),
        fc.array(tie('query'), { minLength: 2, maxLength: 3 }),
      )
      .map(([kind, of]) => joinQueries(kind, of) as Query),
    tie('query').map((of): Query => (of.kind === 'not' ? of : { kind: 'not', of })),
  ),
})).query;
