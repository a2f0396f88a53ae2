import { exportQuery } from '@/lib/catalogue/search-wire';
import { exportSearch } from '@/lib/catalogue/service/export';
import { defineFileRoute } from '@/lib/platform/http';

export const GET = defineFileRoute({
  permission: 'exports.make',
  query: exportQuery,
  service: ({ context, query }) => exportSearch(context, query),
});
