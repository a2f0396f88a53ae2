import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { actRequest } from '@/lib/salvage/schema';
import { startTriage } from '@/lib/salvage/service/triage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: actRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => startTriage(context, params.id, body),
});
