import { webhookMade, webhookRequest, webhookRows } from '@/lib/exchange/webhooks/schema';
import { listWebhooks, makeWebhook } from '@/lib/exchange/webhooks/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'webhooks.manage',
  response: webhookRows,
  service: ({ actor }) => listWebhooks(actor),
});

export const POST = defineRoute({
  permission: 'webhooks.manage',
  body: webhookRequest,
  response: webhookMade,
  service: ({ context, body }) => makeWebhook(context, body),
});
