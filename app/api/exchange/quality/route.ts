import { exportQuery, qualityAnswer } from '@/lib/exchange/schema';
import { checkQuality } from '@/lib/exchange/service/exports';
import { addressOf, defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'exports.make',
  query: exportQuery,
  response: qualityAnswer,
  service: ({ actor, query, request }) => checkQuality(actor, query, addressOf(request)),
});
