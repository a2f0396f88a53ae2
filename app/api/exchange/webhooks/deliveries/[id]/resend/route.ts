import { z } from 'zod';
import { deliveryRow } from '@/lib/exchange/webhooks/schema';
import { resendDelivery } from '@/lib/exchange/webhooks/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'webhooks.manage',
  params: idParams,
  body: z.object({}),
  response: deliveryRow,
  service: ({ context, params }) => resendDelivery(context, params.id),
});
