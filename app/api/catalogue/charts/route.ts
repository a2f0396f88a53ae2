import { chartsAnswer, chartsQuery } from '@/lib/catalogue/figures-wire';
import { chartSearch } from '@/lib/catalogue/service/figures';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  query: chartsQuery,
  response: chartsAnswer,
  service: ({ actor, query }) => chartSearch(actor, query.q),
});
