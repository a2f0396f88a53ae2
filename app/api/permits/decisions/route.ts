import { decideStatus, listDecisions } from '@/lib/permits/service/status-lists';
import { decisionList, decisionRequest, decisionRow } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'permits.see',
  response: decisionList,
  service: ({ actor }) => listDecisions(actor),
});

export const POST = defineRoute({
  permission: 'coverage.rule',
  body: decisionRequest,
  response: decisionRow,
  service: ({ context, body }) => decideStatus(context, body),
});
