import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { reasonedActRequest } from '@/lib/salvage/schema';
import { declineFind } from '@/lib/salvage/service/triage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: reasonedActRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => declineFind(context, params.id, body),
});
