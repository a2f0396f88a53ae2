import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { rulingRequest } from '@/lib/salvage/schema';
import { ruleOnFind } from '@/lib/salvage/service/coverage';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'coverage.rule',
  params: idParams,
  body: rulingRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => ruleOnFind(context, params.id, body),
});
