import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { changeFindRequest } from '@/lib/salvage/schema';
import { changeFind } from '@/lib/salvage/service/change';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.change',
  params: idParams,
  body: changeFindRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => changeFind(context, params.id, body),
});
