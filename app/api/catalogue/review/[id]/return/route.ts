import { returnWithRemarks } from '@/lib/catalogue/schema';
import { returnRecord } from '@/lib/catalogue/service/review';
import { reviewRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.review',
  params: idParams,
  body: returnWithRemarks,
  response: reviewRecord,
  service: ({ context, params, body }) => returnRecord(context, params.id, body),
});
