import { defineRoute } from '@/lib/platform/http';
import { reportFindRequest } from '@/lib/salvage/schema';
import { listFinds } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { salvageRecord } from '@/lib/salvage/wire';
import { salvageListQuery, salvagePage } from '@/lib/salvage/wire-list';

export const GET = defineRoute({
  permission: 'salvage.see',
  query: salvageListQuery,
  response: salvagePage,
  service: ({ actor, query }) => listFinds(actor, query),
});

export const POST = defineRoute({
  permission: 'salvage.log',
  body: reportFindRequest,
  response: salvageRecord,
  service: ({ context, body }) => reportFind(context, body),
});
