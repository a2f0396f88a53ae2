import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { acceptRequest } from '@/lib/salvage/schema';
import { acceptFind } from '@/lib/salvage/service/triage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: acceptRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => acceptFind(context, params.id, body),
});
