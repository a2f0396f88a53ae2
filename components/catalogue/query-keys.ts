import type { MapQuery, NumbersQuery } from '@/lib/catalogue/figures-wire';
import type { SearchQuery } from '@/lib/catalogue/search-wire';
import type { PageQuery } from '@/lib/platform/paging';

export const catalogueKeys = {
  all: ['catalogue'] as const,
  search: (query: SearchQuery) => ['catalogue', 'search', query] as const,
  find: (q: string) => ['catalogue', 'find', q] as const,
  map: (query: MapQuery) => ['catalogue', 'map', query] as const,
  charts: (q: string) => ['catalogue', 'charts', q] as const,
  // Numbers of the whole lab: what comes in, is queued or prepared changes them, too.
  numbers: (query: NumbersQuery) => ['catalogue', 'numbers', 'salvage', 'queue', 'bench', query] as const,
  views: ['catalogue', 'views'] as const,
  record: (birdId: string) => ['catalogue', 'record', birdId] as const,
  // The bench and the bone book change what the desk shows, too: their stages' words are in the key.
  review: (query: PageQuery) => ['catalogue', 'review', 'bench', query] as const,
  reviewRecord: (id: string) => ['catalogue', 'review', 'bench', 'skeletons', 'tissues', id] as const,
};
