import { correctPermit } from '@/lib/permits/service/permits';
import { correctPermitRequest, permitRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'permits.manage',
  params: idParams,
  body: correctPermitRequest,
  response: permitRecord,
  service: ({ context, params, body }) => correctPermit(context, params.id, body),
});
