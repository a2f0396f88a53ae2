import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { listLines } from '@/lib/reports/service/record';
import { linePage, lineQuery } from '@/lib/reports/wire';

export const GET = defineRoute({
  permission: 'reports.see',
  params: idParams,
  query: lineQuery,
  response: linePage,
  service: ({ actor, params, query }) => listLines(actor, params.id, query),
});
