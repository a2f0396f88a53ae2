import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { requestQueuedBird } from '@/lib/queue/service';
import { queueRow, requestBird } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.prioritise',
  params: idParams,
  body: requestBird,
  response: queueRow,
  service: ({ context, params, body }) => requestQueuedBird(context, params.id, body),
});
