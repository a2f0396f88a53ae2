import { defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { writeReportPdf } from '@/lib/reports/service/files';

export const GET = defineFileRoute({
  permission: 'reports.see',
  params: idParams,
  service: ({ actor, params }) => writeReportPdf(actor, params.id),
});
