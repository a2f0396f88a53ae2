import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { bandReportRequest } from '@/lib/salvage/schema';
import { reportBand } from '@/lib/salvage/service/custody';
import { salvageRecord } from '@/lib/salvage/wire';

export const POST = defineRoute({
  permission: 'salvage.triage',
  params: idParams,
  body: bandReportRequest,
  response: salvageRecord,
  service: ({ context, params, body }) => reportBand(context, params.id, body),
});
