import { withdrawStatusDecision } from '@/lib/permits/service/status-lists';
import { decisionRow, withdrawRequest } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'coverage.rule',
  params: idParams,
  body: withdrawRequest,
  response: decisionRow,
  service: ({ context, params, body }) => withdrawStatusDecision(context, params.id, body),
});
