import { placeRecord } from '@/lib/places/schema';
import { showPlace } from '@/lib/places/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'places.see',
  params: idParams,
  response: placeRecord,
  service: ({ actor, params }) => showPlace(actor, params.id),
});
