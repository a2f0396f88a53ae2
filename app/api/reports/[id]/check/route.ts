import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { checkReport } from '@/lib/reports/service/record';
import { reportCheck } from '@/lib/reports/wire';

export const GET = defineRoute({
  permission: 'reports.see',
  params: idParams,
  response: reportCheck,
  service: ({ actor, params }) => checkReport(actor, params.id),
});
