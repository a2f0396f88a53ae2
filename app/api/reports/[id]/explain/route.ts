import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { explainWarnings } from '@/lib/reports/service/commands';
import { explainRequest, reportRecord } from '@/lib/reports/wire';

export const POST = defineRoute({
  permission: 'reports.make',
  params: idParams,
  body: explainRequest,
  response: reportRecord,
  service: ({ context, params, body }) => explainWarnings(context, params.id, body),
});
