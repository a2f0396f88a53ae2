import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { liftHoldRequest } from '@/lib/salvage/schema';
import { liftHold } from '@/lib/salvage/service/triage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.hold',
  params: idParams.extend({ holdId: z.uuid() }),
  body: liftHoldRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => liftHold(context, params, body),
});
