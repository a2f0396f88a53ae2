import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { takeBird } from '@/lib/queue/claims';
import { takeBirdSchema } from '@/lib/queue/schema';
import { queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.claim',
  params: idParams,
  body: takeBirdSchema.omit({ version: true }),
  response: queueRow,
  service: ({ context, params, body }) => takeBird(context, params.id, body),
});
