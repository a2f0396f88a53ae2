import { defineRoute } from '@/lib/platform/http';
import { proposePlaces } from '@/lib/storage/places';
import { placesQuery, proposedPlaces } from '@/lib/storage/schema';

export const GET = defineRoute({
  permission: 'storage.see',
  query: placesQuery,
  response: proposedPlaces,
  service: ({ actor, query }) => proposePlaces(actor, query),
});
