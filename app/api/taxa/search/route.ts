import { defineRoute } from '@/lib/platform/http';
import { taxonChoices, taxonSearchQuery } from '@/lib/taxa/schema';
import { searchTaxa } from '@/lib/taxa/service/taxa';

export const GET = defineRoute({
  permission: 'taxa.see',
  query: taxonSearchQuery,
  response: taxonChoices,
  service: ({ actor, query }) => searchTaxa(actor, query),
});
