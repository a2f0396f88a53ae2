import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { handBirdOver } from '@/lib/queue/claims';
import { handOverSchema } from '@/lib/queue/schema';
import { queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.hand-over',
  params: idParams,
  body: handOverSchema.omit({ version: true }),
  response: queueRow,
  service: ({ context, params, body }) => handBirdOver(context, params.id, body),
});
