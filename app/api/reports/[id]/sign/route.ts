import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { signReport } from '@/lib/reports/service/commands';
import { reportRecord, signRequest } from '@/lib/reports/wire';

export const POST = defineRoute({
  permission: 'reports.sign',
  params: idParams,
  body: signRequest,
  response: reportRecord,
  service: ({ context, params, body }) => signReport(context, params.id, body),
});
