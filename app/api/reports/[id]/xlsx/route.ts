import { defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { writeReportWorkbook } from '@/lib/reports/service/files';

export const GET = defineFileRoute({
  permission: 'reports.see',
  params: idParams,
  service: ({ actor, params }) => writeReportWorkbook(actor, params.id),
});
