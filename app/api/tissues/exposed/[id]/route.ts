import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { countThaws, listExposedVials } from '@/lib/tissues/service/exposed';
import { countThawsRequest, exposedVials } from '@/lib/tissues/wire';

export const GET = defineRoute({
  permission: 'tissues.see',
  params: idParams,
  response: exposedVials,
  service: ({ actor, params }) => listExposedVials(actor, params.id),
});

export const POST = defineRoute({
  permission: 'tissues.use',
  params: idParams,
  body: countThawsRequest,
  response: exposedVials,
  service: ({ context, params, body }) => countThaws(context, params.id, body.vialIds),
});
