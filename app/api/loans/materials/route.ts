import { findLendable } from '@/lib/loans/service/ask';
import { lendableQuery, lendables } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'loans.see',
  query: lendableQuery,
  response: lendables,
  service: ({ actor, query }) => findLendable(actor, query),
});
