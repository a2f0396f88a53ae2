import { searchAnswer, searchQuery } from '@/lib/catalogue/search-wire';
import { searchCatalogue } from '@/lib/catalogue/service/search';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  query: searchQuery,
  response: searchAnswer,
  service: ({ actor, query }) => searchCatalogue(actor, query),
});
