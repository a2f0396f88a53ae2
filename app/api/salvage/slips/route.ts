import { defineRoute } from '@/lib/platform/http';
import { pageQuery } from '@/lib/platform/paging';
import { slipRequest } from '@/lib/salvage/schema';
import { listSlips, makeSlip } from '@/lib/salvage/service/slips';
import { slipMade, slipPage } from '@/lib/salvage/wire-slip';

export const GET = defineRoute({
  permission: 'salvage.slips',
  query: pageQuery,
  response: slipPage,
  service: ({ actor, query }) => listSlips(actor, query),
});

export const POST = defineRoute({
  permission: 'salvage.slips',
  body: slipRequest,
  response: slipMade,
  service: ({ context, body }) => makeSlip(context, body),
});
