import { amendPermitRequest } from '@/lib/permits/permit-schema';
import { amendPermit } from '@/lib/permits/service/permits';
import { permitRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'permits.manage',
  params: idParams,
  body: amendPermitRequest,
  response: permitRecord,
  service: ({ context, params, body }) => amendPermit(context, params.id, body),
});
