import { renewPermit } from '@/lib/permits/service/permits';
import { permitRecord, renewPermitRequest } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'permits.manage',
  params: idParams,
  body: renewPermitRequest,
  response: permitRecord,
  service: ({ context, params, body }) => renewPermit(context, params.id, body),
});
