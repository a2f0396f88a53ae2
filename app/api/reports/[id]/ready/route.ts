import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { markReportReady } from '@/lib/reports/service/commands';
import { readyRequest, reportRecord } from '@/lib/reports/wire';

export const POST = defineRoute({
  permission: 'reports.make',
  params: idParams,
  body: readyRequest,
  response: reportRecord,
  service: ({ context, params, body }) => markReportReady(context, params.id, body),
});
