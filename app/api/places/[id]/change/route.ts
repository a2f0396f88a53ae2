import { placeChange, placeRecord } from '@/lib/places/schema';
import { changePlace } from '@/lib/places/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'places.manage',
  params: idParams,
  body: placeChange,
  response: placeRecord,
  service: ({ context, params, body }) => changePlace(context, params.id, body),
});
