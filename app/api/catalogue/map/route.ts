import { mapAnswer, mapQuery } from '@/lib/catalogue/figures-wire';
import { mapSearch } from '@/lib/catalogue/service/figures';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  query: mapQuery,
  response: mapAnswer,
  service: ({ actor, query }) => mapSearch(actor, query),
});
