import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { reasonedActRequest } from '@/lib/salvage/schema';
import { endRuling } from '@/lib/salvage/service/coverage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'coverage.rule',
  params: idParams,
  body: reasonedActRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => endRuling(context, params.id, body),
});
