import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showReport } from '@/lib/reports/service/record';
import { reportRecord } from '@/lib/reports/wire';

export const GET = defineRoute({
  permission: 'reports.see',
  params: idParams,
  response: reportRecord,
  service: ({ actor, params }) => showReport(actor, params.id),
});
