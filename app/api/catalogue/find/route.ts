import { findAnswer, findQuery } from '@/lib/catalogue/search-wire';
import { findQuickly } from '@/lib/catalogue/service/search';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  query: findQuery,
  response: findAnswer,
  service: ({ actor, query }) => findQuickly(actor, query.q),
});
