import { deliveryPage, deliveryQuery } from '@/lib/exchange/webhooks/schema';
import { listDeliveries } from '@/lib/exchange/webhooks/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'webhooks.manage',
  query: deliveryQuery,
  response: deliveryPage,
  service: ({ actor, query }) => listDeliveries(actor, query),
});
