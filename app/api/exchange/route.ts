import { exportOverview } from '@/lib/exchange/schema';
import { describeExports } from '@/lib/exchange/service/exports';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  response: exportOverview,
  service: ({ actor }) => describeExports(actor),
});
