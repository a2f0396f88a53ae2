import { placeReading, placeToRead } from '@/lib/places/schema';
import { readWrittenPlace } from '@/lib/places/service';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'places.see',
  body: placeToRead,
  response: placeReading,
  service: ({ actor, body }) => readWrittenPlace(actor, body),
});
