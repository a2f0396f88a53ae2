import { readers, readersQuery } from '@/lib/notices/schema';
import { listReaders } from '@/lib/notices/service/comments';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'comments.write',
  query: readersQuery,
  response: readers,
  service: ({ actor, query }) => listReaders(actor, query),
});
