import { defineRoute } from '@/lib/platform/http';
import { taxonSearchQuery } from '@/lib/taxa/schema';
import { searchTaxa } from '@/lib/taxa/service/taxa';
import { taxonChoices } from '@/lib/taxa/wire-choice';

export const GET = defineRoute({
  permission: 'taxa.see',
  query: taxonSearchQuery,
  response: taxonChoices,
  service: ({ actor, query }) => searchTaxa(actor, query),
});
