import { defineRoute } from '@/lib/platform/http';
import { fillVials } from '@/lib/tissues/service/fill';
import { listVials } from '@/lib/tissues/service/list';
import { birdVials, fillRequest, vialListQuery, vialPage } from '@/lib/tissues/wire';

export const GET = defineRoute({
  permission: 'tissues.see',
  query: vialListQuery,
  response: vialPage,
  service: ({ actor, query }) => listVials(actor, query),
});

export const POST = defineRoute({
  permission: 'tissues.fill',
  body: fillRequest,
  response: birdVials,
  service: ({ context, body }) => fillVials(context, body),
});
