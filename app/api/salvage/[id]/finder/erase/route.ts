import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { reasonedActRequest } from '@/lib/salvage/schema';
import { eraseFinder } from '@/lib/salvage/service/finder-privacy';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'finder.erase',
  params: idParams,
  body: reasonedActRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => eraseFinder(context, params.id, body),
});
