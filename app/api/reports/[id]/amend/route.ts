import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { amendReport } from '@/lib/reports/service/commands';
import { amendReportRequest, reportRecord } from '@/lib/reports/wire';

export const POST = defineRoute({
  permission: 'reports.make',
  params: idParams,
  body: amendReportRequest,
  response: reportRecord,
  service: ({ context, params, body }) => amendReport(context, params.id, body),
});
