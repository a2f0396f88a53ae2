import { placeListQuery, placeRecord, placeRequest } from '@/lib/places/schema';
import { addPlace, listPlaces } from '@/lib/places/service';
import { placePage } from '@/lib/places/wire-list';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'places.see',
  query: placeListQuery,
  response: placePage,
  service: ({ actor, query }) => listPlaces(actor, query),
});

export const POST = defineRoute({
  permission: 'places.manage',
  body: placeRequest,
  response: placeRecord,
  service: ({ context, body }) => addPlace(context, body),
});
