import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showQueueBird } from '@/lib/queue/service';
import { queueRow } from '@/lib/queue/wire';

export const GET = defineRoute({
  permission: 'queue.see',
  params: idParams,
  response: queueRow,
  service: ({ actor, params }) => showQueueBird(actor, params.id),
});
