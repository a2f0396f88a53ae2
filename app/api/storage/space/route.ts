import { defineRoute } from '@/lib/platform/http';
import { proposeSpace } from '@/lib/storage/service/space';
import { spaceAnswer, spaceQuery } from '@/lib/storage/wire';

export const GET = defineRoute({
  permission: 'storage.see',
  query: spaceQuery,
  response: spaceAnswer,
  service: ({ actor, query }) => proposeSpace(actor, query),
});
