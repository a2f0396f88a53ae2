import { defineRoute } from '@/lib/platform/http';
import { openReport } from '@/lib/reports/service/commands';
import { showReportDesk } from '@/lib/reports/service/desk';
import { openReportRequest, reportDesk, reportRecord } from '@/lib/reports/wire';

export const GET = defineRoute({
  permission: 'reports.see',
  response: reportDesk,
  service: ({ actor }) => showReportDesk(actor),
});

export const POST = defineRoute({
  permission: 'reports.make',
  body: openReportRequest,
  response: reportRecord,
  service: ({ context, body }) => openReport(context, body),
});
