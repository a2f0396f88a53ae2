import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { nameCoWorker } from '@/lib/queue/claims';
import { coWorkSchema } from '@/lib/queue/schema';
import { queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.hand-over',
  params: idParams,
  body: coWorkSchema,
  response: queueRow,
  service: ({ context, params, body }) => nameCoWorker(context, params.id, body),
});
