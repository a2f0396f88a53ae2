import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showBirdVials } from '@/lib/tissues/service/fill';
import { birdVials } from '@/lib/tissues/wire';

export const GET = defineRoute({
  permission: 'tissues.see',
  params: idParams,
  response: birdVials,
  service: ({ actor, params }) => showBirdVials(actor, params.id),
});
