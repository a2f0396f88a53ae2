import { z } from 'zod';
import { MAX_CHOSEN } from '@/lib/platform/bulk-wire';
import { pageQuery } from '@/lib/platform/paging';
import { sexSchema } from './schema';

/** Orders that the server gives; a dash before one turns it round. */
export const SEARCH_SORTS = [
  'number',
  'catalogueNumber',
  'taxon',
  'found',
  'prepared',
  'approved',
  'county',
] as const;
export type SearchSort = (typeof SEARCH_SORTS)[number];

const sort = z
  .string()
  .regex(new RegExp(`^-?(${SEARCH_SORTS.join('|')})$`), 'No such order.')
  .default('-number');

export const searchQuery = pageQuery.extend({ q: z.string().max(2000).default(''), sort });
export type SearchQuery = z.output<typeof searchQuery>;

export const searchRow = z.object({
  birdId: z.uuid(),
  number: z.string(),
  catalogueNumber: z.string().nullable(),
  prepNumber: z.string().nullable(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  familyName: z.string().nullable(),
  sex: sexSchema,
  age: z.string().nullable(),
  stage: z.string(),
  styleId: z.string().nullable(),
  foundFrom: z.string(),
  foundTo: z.string(),
  stateProvince: z.string(),
  /** Null where this reader sees the state only. */
  county: z.string().nullable(),
  /** Null where this reader sees no exact place. */
  locality: z.string().nullable(),
  preparator: z.string().nullable(),
  preparedOn: z.string().nullable(),
  approvedOn: z.string().nullable(),
  kinds: z.array(z.string()),
  custodies: z.array(z.string()),
});
export type SearchRow = z.infer<typeof searchRow>;

/** What the hits have in common; `term` is the search term that narrows to it. */
export const FACETS = ['stage', 'family', 'material', 'sex', 'month', 'county', 'preparator'] as const;
export type FacetId = (typeof FACETS)[number];

export const searchFacet = z.object({
  id: z.enum(FACETS),
  values: z.array(z.object({ value: z.string(), label: z.string(), count: z.number().int() })),
});
export type SearchFacet = z.infer<typeof searchFacet>;

export const searchAnswer = z.object({
  rows: z.array(searchRow),
  next: z.string().nullable(),
  /** Hits counted, at most `countedTo`; null on later pages. */
  total: z.number().int().nullable(),
  countedTo: z.number().int(),
  facets: z.array(searchFacet).nullable(),
  /** What was not understood, with its place in the text. */
  problems: z.array(z.object({ at: z.number().int(), length: z.number().int(), message: z.string() })),
  /** Names that were found only by their likeness: "Turdus migratorus" read as "Turdus migratorius". */
  readAs: z.array(z.object({ text: z.string(), as: z.array(z.string()) })),
});
export type SearchAnswer = z.infer<typeof searchAnswer>;

export const findQuery = z.object({ q: z.string().trim().min(1).max(200) });
export const findAnswer = z.object({
  hits: z.array(
    searchRow.pick({
      birdId: true,
      number: true,
      catalogueNumber: true,
      scientificName: true,
      commonName: true,
      stage: true,
    }),
  ),
});
export type FindAnswer = z.infer<typeof findAnswer>;

/** Columns of the list and of an exported table, in their usual order. */
export const SEARCH_COLUMNS = [
  'number',
  'catalogueNumber',
  'prepNumber',
  'scientificName',
  'commonName',
  'familyName',
  'sex',
  'age',
  'stage',
  'found',
  'stateProvince',
  'county',
  'locality',
  'preparator',
  'preparedOn',
  'approvedOn',
  'materials',
  'custody',
  'style',
] as const;
export type SearchColumn = (typeof SEARCH_COLUMNS)[number];

/** A workbook is made in memory: it holds at most so many birds. A CSV has no such limit. */
export const WORKBOOK_ROWS = 10_000;

export const exportQuery = z.object({
  q: z.string().max(2000).default(''),
  sort,
  form: z.enum(['csv', 'xlsx']).default('csv'),
  /** Only these birds of the result. */
  birds: z
    .string()
    .transform((text) => text.split(','))
    .pipe(z.array(z.uuid()).min(1).max(MAX_CHOSEN))
    .optional(),
  columns: z
    .string()
    .transform((text) => text.split(','))
    .pipe(z.array(z.enum(SEARCH_COLUMNS)).min(1))
    .default([...SEARCH_COLUMNS]),
});
export type ExportQuery = z.output<typeof exportQuery>;
