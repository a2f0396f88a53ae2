import { defineRoute } from '@/lib/platform/http';
import { enqueueBirds } from '@/lib/queue/service';
import { enqueueAnswer, enqueueRequest } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'queue.prioritise',
  body: enqueueRequest,
  response: enqueueAnswer,
  service: ({ context, body }) => enqueueBirds(context, body),
});
