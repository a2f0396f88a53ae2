import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { custodyStateSchema, materialKindSchema } from '@/lib/queue/schema';
import { sexSchema } from '../schema';

/** Fields whose value is free text, compared with names as people write them. */
export const TEXT_FIELDS = [
  'taxon',
  'person',
  'finder',
  'preparator',
  'place',
  'county',
  'permit',
  'loan',
  'stage',
  'age',
  'style',
  'tissue',
  'warning',
] as const;
export const DATE_FIELDS = ['found', 'received', 'prepared', 'catalogued'] as const;
export type DateField = (typeof DATE_FIELDS)[number];

const phrase = z.string().trim().min(1).max(200);
const textTerm = z.object({
  kind: z.literal('term'),
  field: z.enum(TEXT_FIELDS),
  /** Any of these. */
  values: z.array(phrase).min(1),
});
const numberTerm = z.object({ kind: z.literal('term'), field: z.literal('number'), text: phrase });
const wordsTerm = z.object({ kind: z.literal('term'), field: z.literal('words'), text: phrase });
const sexTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('sex'),
  values: z.array(sexSchema).min(1),
});
const materialTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('material'),
  values: z.array(materialKindSchema).min(1),
});
const custodyTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('custody'),
  values: z.array(custodyStateSchema).min(1),
});
/** Days from and to, both included; one of them may be open. */
const dateTerm = z
  .object({
    kind: z.literal('term'),
    field: z.enum(DATE_FIELDS),
    from: givenDay().nullable(),
    to: givenDay().nullable(),
  })
  .refine((term) => term.from !== null || term.to !== null, 'A date term needs an end.')
  .refine(
    (term) => term.from === null || term.to === null || term.from <= term.to,
    'The dates run backwards.',
  );
/** Months of finding in any year, in calendar order. */
const monthTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('month'),
  months: z.array(z.int().min(1).max(12)).min(1),
});
/** A range of tissue quality classes, 1 to 4. */
const qualityTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('quality'),
  least: z.int().min(1).max(4),
  most: z.int().min(1).max(4),
});
export const BONE_SIDES = ['left', 'right', 'unpaired'] as const;
export const BONE_STATES = ['whole', 'broken', 'missing'] as const;
/** One material that holds all of these elements, of this side and state (null: any). */
const bonesTerm = z.object({
  kind: z.literal('term'),
  field: z.literal('bones'),
  elements: z.array(z.string().regex(/^[a-z][a-z0-9-]*$/)).min(1),
  side: z.enum(BONE_SIDES).nullable(),
  state: z.enum(BONE_STATES).nullable(),
});

const degrees = (most: number) => z.number().min(-most).max(most).multipleOf(0.0001);
/** A box of the map, in degrees: its southern and western sides belong to it, the others to its neighbours. */
const withinTerm = z
  .object({
    kind: z.literal('term'),
    field: z.literal('within'),
    south: degrees(90),
    north: degrees(90),
    west: degrees(180),
    east: degrees(180),
  })
  .refine((term) => term.south < term.north && term.west < term.east, 'The box is empty.');
export type MapBox = { south: number; north: number; west: number; east: number };

export const queryTermSchema = z.union([
  textTerm,
  numberTerm,
  wordsTerm,
  sexTerm,
  materialTerm,
  custodyTerm,
  dateTerm,
  monthTerm,
  qualityTerm,
  bonesTerm,
  withinTerm,
]);
export type QueryTerm = z.infer<typeof queryTermSchema>;

/** A filter: terms joined by and, or, not. */
export type Query =
  | QueryTerm
  | { kind: 'and'; of: Query[] }
  | { kind: 'or'; of: Query[] }
  | { kind: 'not'; of: Query };

export const querySchema: z.ZodType<Query> = z.lazy(() =>
  z.union([
    queryTermSchema,
    z.object({ kind: z.literal('and'), of: z.array(querySchema).min(2) }),
    z.object({ kind: z.literal('or'), of: z.array(querySchema).min(2) }),
    z.object({ kind: z.literal('not'), of: querySchema }),
  ]),
);

/** Something in the box that was not understood, where it stands, and what was made of it. */
export type QueryProblem = { at: number; length: number; message: string };
export type ParsedQuery = { query: Query | null; problems: QueryProblem[] };

/** Joins by and/or: nested joins of the same kind flattened, a join of one dropped, nothing is null. */
export function joinQueries(kind: 'and' | 'or', parts: readonly (Query | null)[]): Query | null {
  const of = parts.flatMap((part) => (part === null ? [] : part.kind === kind ? part.of : [part]));
  const [first] = of;
  if (first === undefined) return null;
  return of.length === 1 ? first : { kind, of };
}
