import { exportQuery, qualityAnswer } from '@/lib/exchange/schema';
import { checkQuality } from '@/lib/exchange/service/exports';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'exports.make',
  query: exportQuery,
  response: qualityAnswer,
  service: ({ actor, query }) => checkQuality(actor, query),
});
