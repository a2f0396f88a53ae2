import { listReview } from '@/lib/catalogue/service/review';
import { reviewListQuery, reviewPage } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'bench.review',
  query: reviewListQuery,
  response: reviewPage,
  service: ({ actor, query }) => listReview(actor, query),
});
