import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { actRequest } from '@/lib/salvage/schema';
import { recheckFind } from '@/lib/salvage/service/coverage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: actRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => recheckFind(context, params.id, body),
});
