import { webhookMade, webhookRequest, webhookRows } from '@/lib/exchange/webhooks/schema';
import { listWebhooks, makeWebhook } from '@/lib/exchange/webhooks/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'webhooks.manage',
  response: webhookRows,
  service: ({ actor }) => listWebhooks(actor),
});

// The answer holds the secret: a repeated delivery must not find it kept, so idempotency keys are passed over.
export const POST = defineRoute({
  permission: 'webhooks.manage',
  body: webhookRequest,
  response: webhookMade,
  service: ({ actor, context, body }) => makeWebhook({ actor, requestId: context.requestId }, body),
});
