import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { finderChangeRequest } from '@/lib/salvage/schema';
import { changeFinder } from '@/lib/salvage/service/finder';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'finder.see',
  params: idParams,
  body: finderChangeRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => changeFinder(context, params.id, body),
});
