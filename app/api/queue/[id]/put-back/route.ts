import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { putBirdBack } from '@/lib/queue/claims';
import { putBackSchema } from '@/lib/queue/schema';
import { queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.hand-over',
  params: idParams,
  body: putBackSchema.omit({ version: true }),
  response: queueRow,
  service: ({ context, params, body }) => putBirdBack(context, params.id, body.reason),
});
