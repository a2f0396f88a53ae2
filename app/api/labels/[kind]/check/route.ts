import { checkPrint } from '@/lib/labels/service';
import { labelCheck, labelParams, labelQuery } from '@/lib/labels/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'labels.print',
  params: labelParams,
  query: labelQuery,
  response: labelCheck,
  service: ({ actor, params, query }) => checkPrint(actor, params.kind, query),
});
