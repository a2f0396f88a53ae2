import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { placeHoldRequest } from '@/lib/salvage/schema';
import { placeHold } from '@/lib/salvage/service/triage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.hold',
  params: idParams,
  body: placeHoldRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => placeHold(context, params.id, body),
});
