import { confirmRule } from '@/lib/permits/service/rule-packs';
import { confirmRuleRequest, packRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'coverage.rule',
  params: idParams,
  body: confirmRuleRequest,
  response: packRecord,
  service: ({ context, params, body }) => confirmRule(context, params.id, body),
});
