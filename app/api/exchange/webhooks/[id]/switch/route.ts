import { webhookRow, webhookSwitch } from '@/lib/exchange/webhooks/schema';
import { switchWebhookTo } from '@/lib/exchange/webhooks/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'webhooks.manage',
  params: idParams,
  body: webhookSwitch,
  response: webhookRow,
  service: ({ context, params, body }) => switchWebhookTo(context, params.id, body),
});
