import { showReview } from '@/lib/catalogue/service/review';
import { reviewRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'bench.review',
  params: idParams,
  response: reviewRecord,
  service: ({ actor, params }) => showReview(actor, params.id),
});
