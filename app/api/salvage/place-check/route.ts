import { defineRoute } from '@/lib/platform/http';
import { checkPlace } from '@/lib/salvage/service/reading';
import { placeCheckAnswer, placeCheckQuery } from '@/lib/salvage/wire-place';

export const GET = defineRoute({
  permission: 'salvage.log',
  query: placeCheckQuery,
  response: placeCheckAnswer,
  service: ({ actor, query }) => checkPlace(actor, query),
});
