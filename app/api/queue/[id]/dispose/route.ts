import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { disposeBird } from '@/lib/queue/disposal';
import { disposeRequest, queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.dispose',
  params: idParams,
  body: disposeRequest,
  response: queueRow,
  service: ({ context, params, body }) => disposeBird(context, params.id, body),
});
