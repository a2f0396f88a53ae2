import { historyPage, historyQuery } from '@/lib/audit/schema';
import { listHistory } from '@/lib/audit/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'audit.see',
  query: historyQuery,
  response: historyPage,
  service: ({ actor, query }) => listHistory(actor, query),
});
