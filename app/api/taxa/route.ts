import { defineRoute } from '@/lib/platform/http';
import { taxonListQuery, taxonPage } from '@/lib/taxa/schema';
import { listTaxa } from '@/lib/taxa/service/taxa';

export const GET = defineRoute({
  permission: 'taxa.see',
  query: taxonListQuery,
  response: taxonPage,
  service: ({ actor, query }) => listTaxa(actor, query),
});
