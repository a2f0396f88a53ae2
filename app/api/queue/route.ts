import { defineRoute } from '@/lib/platform/http';
import { listQueue } from '@/lib/queue/service';
import { queueListQuery, queuePage } from '@/lib/queue/wire';

export const GET = defineRoute({
  permission: 'queue.see',
  query: queueListQuery,
  response: queuePage,
  service: ({ actor, query }) => listQueue(actor, query),
});
