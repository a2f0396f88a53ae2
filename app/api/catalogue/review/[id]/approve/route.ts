import { approveRequest } from '@/lib/catalogue/schema';
import { approveRecord } from '@/lib/catalogue/service/review';
import { approvedAnswer } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.review',
  params: idParams,
  body: approveRequest,
  response: approvedAnswer,
  service: ({ context, params, body }) => approveRecord(context, params.id, body),
});
