import { defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { writeReportCsv } from '@/lib/reports/service/files';

export const GET = defineFileRoute({
  permission: 'reports.see',
  params: idParams,
  service: ({ actor, params }) => writeReportCsv(actor, params.id),
});
