import { showBird } from '@/lib/desk/bird';
import { birdRecord } from '@/lib/desk/schema';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'salvage.see',
  params: idParams,
  response: birdRecord,
  service: ({ actor, params }) => showBird(actor, params.id),
});
