import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { handOverRequest } from '@/lib/salvage/schema';
import { handOver } from '@/lib/salvage/service/custody';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: handOverRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => handOver(context, params.id, body),
});
